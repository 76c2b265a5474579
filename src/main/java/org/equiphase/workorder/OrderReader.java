package org.equiphase.workorder;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.equiphase.web.Checks;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;

/** Reads an order as typed; collects problems instead of stopping at the first. */
final class OrderReader {

  private final Checks checks = new Checks();
  private final Map<String, List<Placed>> sets = new LinkedHashMap<>();
  private final List<TypedOrder.PoolSerial> poolSerials = new ArrayList<>();
  private final List<Integer> frequencyLines = new ArrayList<>();

  /** A position, the line it was typed on, and whether it is its set's master. */
  private record Placed(PositionDraft position, int line, boolean master) {

    Placed withSerial(String serial) {
      return new Placed(
          new PositionDraft(
              position.label(), serial, position.offsetPhaseDeg(), position.offsetDelayPs()),
          line,
          master);
    }
  }

  TypedOrder read(OrderForm form) {
    LocalDate dueOn = checks.part(() -> date(form.dueOn()));
    Specification specification = specification(form);
    positions(form.positions(), form.serialPattern().isBlank() ? 3 : 2);
    pool(form.pool());
    fill(form.serialPattern().strip());
    return order(form, dueOn, specification);
  }

  private static @Nullable LocalDate date(String text) {
    try {
      return text.isBlank() ? null : LocalDate.parse(text.strip());
    } catch (DateTimeParseException e) {
      throw InvalidInputException.of("dueOn", Sentence.of("order.noDateRead", text));
    }
  }

  private Specification specification(OrderForm form) {
    boolean cuts =
        !form.trimAllowanceMm().strip().equals("0") || !form.cutStandardUncertaintyMm().isBlank();
    return new Specification(
        form.cableTypeId(),
        form.connector().strip(),
        optional("connectorTorqueNm", form.connectorTorqueNm()),
        zeroIfBlank("connectorElectricalMm", form.connectorElectricalMm()),
        zeroIfBlank("connectorCableMm", form.connectorCableMm()),
        form.method(),
        form.basis(),
        form.turns(),
        number("nominalLengthMm", form.nominalLengthMm()),
        number("nominalLengthToleranceMm", form.nominalLengthToleranceMm()),
        optional("nominalDelayNs", form.nominalDelayNs()),
        number("trimAllowanceMm", form.trimAllowanceMm()),
        number("cutResolutionMm", form.cutResolutionMm()),
        cuts ? number("cutStandardUncertaintyMm", form.cutStandardUncertaintyMm()) : 0,
        number("tooShortPercent", form.tooShortPercent()) / 100,
        form.lineStretcherId(),
        optional("stretcherStartMm", form.stretcherStartMm()),
        number("aimPercent", form.aimPercent()) / 100,
        optional("vswrLimit", form.vswrLimit()),
        number("referenceTemperatureC", form.referenceTemperatureC()),
        optional("temperatureLowC", form.temperatureLowC()),
        optional("temperatureHighC", form.temperatureHighC()),
        form.decisionRule(),
        number("guardFactor", form.guardFactor()),
        frequencies(form.frequencies()));
  }

  private double number(String field, String text) {
    Double value = checks.part(() -> Numbers.read(field, text));
    return value == null ? 1 : value;
  }

  private @Nullable Double optional(String field, String text) {
    return checks.part(() -> Numbers.readOptional(field, text));
  }

  private double zeroIfBlank(String field, String text) {
    Double value = optional(field, text);
    return value == null ? 0 : value;
  }

  private List<FrequencySpecification> frequencies(String text) {
    List<FrequencySpecification> list = new ArrayList<>();
    for (Line line : lines(text)) {
      List<String> cells = cells(line.text);
      String at = "frequencies." + line.number + ".";
      list.add(
          new FrequencySpecification(
              hertz(number(at + "frequencyMhz", cell(cells, 0))),
              number(at + "tolerance", cell(cells, 1)),
              optional(at + "insertionLoss", cell(cells, 2)),
              optional(at + "lossSpread", cell(cells, 3)),
              optional(at + "nominalPhase", cell(cells, 4))));
      frequencyLines.add(line.number);
    }
    return list;
  }

  /** The number of hertz that the decimals mean. */
  private static double hertz(double megahertz) {
    return BigDecimal.valueOf(megahertz).movePointRight(OrderForm.HERTZ_DIGITS).doubleValue();
  }

  private void positions(String text, int fewestColumns) {
    for (Line line : lines(text)) {
      List<String> cells = cells(line.text);
      String at = "positions." + line.number + ".";
      if (cells.size() < fewestColumns) {
        checks.problem(at + "columns", Sentence.of("order.tooFewColumns"));
        continue;
      }
      position(cells, at, line.number);
    }
  }

  private void position(List<String> cells, String at, int line) {
    Double offsetDeg = optional(at + "offsetDeg", cell(cells, 3));
    Double offsetPs = optional(at + "offsetPs", cell(cells, 4));
    PositionDraft typed =
        new PositionDraft(
            cell(cells, 1),
            cell(cells, 2),
            offsetDeg == null ? 0 : offsetDeg,
            offsetPs == null ? 0 : offsetPs);
    List<PositionDraft> all = checks.part(() -> SerialPattern.positions(at, typed));
    if (all == null) {
      return;
    }
    boolean master = cell(cells, 5).equalsIgnoreCase("master");
    if (master && all.size() > 1) {
      checks.problem(at + "master", Sentence.of("order.pattern.oneMaster", all.size()));
    }
    all.forEach(
        p ->
            sets.computeIfAbsent(cell(cells, 0), s -> new ArrayList<>())
                .add(new Placed(p, line, master)));
  }

  private void pool(String text) {
    for (Line line : lines(text)) {
      String field = "pool." + line.number + ".serial";
      List<String> all = checks.part(() -> SerialPattern.namesOf(field, line.text.strip()));
      if (all != null) {
        all.forEach(serial -> poolSerials.add(new TypedOrder.PoolSerial(serial, line.number)));
      }
    }
  }

  /** Gives serial numbers by pattern to the positions that have none. */
  private void fill(String pattern) {
    boolean linesMissing =
        checks.found().stream().anyMatch(p -> p.field().startsWith("positions."));
    if (pattern.isEmpty() || linesMissing) {
      return;
    }
    long blank =
        sets.values().stream()
            .flatMap(List::stream)
            .filter(p -> p.position.serial().isBlank())
            .count();
    List<String> serials =
        checks.part(
            () -> SerialPattern.read("serialPattern", pattern).names("serialPattern", (int) blank));
    if (serials == null) {
      return;
    }
    int[] next = {0};
    sets.values()
        .forEach(
            placed ->
                placed.replaceAll(
                    p -> p.position.serial().isBlank() ? p.withSerial(serials.get(next[0]++)) : p));
  }

  private TypedOrder order(OrderForm form, @Nullable LocalDate dueOn, Specification specification) {
    List<SetDraft> drafts = new ArrayList<>();
    List<List<Integer>> lines = new ArrayList<>();
    sets.forEach(
        (name, placed) -> {
          String master =
              placed.stream()
                  .filter(Placed::master)
                  .map(p -> p.position.serial())
                  .reduce((first, last) -> last)
                  .orElse(null);
          drafts.add(new SetDraft(name, master, placed.stream().map(Placed::position).toList()));
          lines.add(placed.stream().map(Placed::line).toList());
        });
    return new TypedOrder(
        new OrderDraft(
            form.number().strip(),
            form.title().strip(),
            dueOn,
            form.cableLot().strip(),
            specification,
            drafts,
            poolSerials.stream().map(TypedOrder.PoolSerial::serial).toList()),
        lines,
        poolSerials.stream().map(TypedOrder.PoolSerial::line).toList(),
        frequencyLines,
        checks.found());
  }

  private record Line(int number, String text) {}

  /** The lines that say something, numbered as they stand. */
  private static List<Line> lines(String text) {
    List<String> all = text.lines().toList();
    return IntStream.range(0, all.size())
        .filter(i -> !all.get(i).isBlank())
        .mapToObj(i -> new Line(i + 1, all.get(i)))
        .toList();
  }

  private static List<String> cells(String row) {
    return List.of(row.split(row.contains("\t") ? "\t" : ";", -1));
  }

  private static String cell(List<String> cells, int column) {
    return column < cells.size() ? cells.get(column).strip() : "";
  }
}
