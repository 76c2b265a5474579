package org.equiphase.workorder;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.StringJoiner;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.web.Checks;
import org.equiphase.web.Digits;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.equiphase.web.Texts;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;

/**
 * An order as typed on the page or in a file: everything is text until it is read.
 *
 * @param frequencies a line per frequency: MHz; tolerance °; insertion-loss limit dB; its spread
 *     dB; nominal °
 * @param positions a line per position, or several that count: set; position; serial; offset °;
 *     offset ps; "master"
 * @param serialPattern serial numbers of the positions that give none
 * @param pool a line per serial number, or several that count
 */
record OrderForm(
    String number,
    String title,
    String dueOn,
    String cableLot,
    long cableTypeId,
    String connector,
    String connectorTorqueNm,
    String connectorElectricalMm,
    String connectorCableMm,
    Method method,
    Basis basis,
    Turns turns,
    String nominalLengthMm,
    String nominalLengthToleranceMm,
    String nominalDelayNs,
    String trimAllowanceMm,
    String cutResolutionMm,
    String cutStandardUncertaintyMm,
    String tooShortPercent,
    @Nullable Long lineStretcherId,
    String stretcherStartMm,
    String aimPercent,
    String vswrLimit,
    String referenceTemperatureC,
    String temperatureLowC,
    String temperatureHighC,
    DecisionRule decisionRule,
    String guardFactor,
    String frequencies,
    String positions,
    String serialPattern,
    String pool) {

  private static final int HERTZ_DIGITS = 6;

  /** A form may leave fields out that do not concern it. */
  OrderForm {
    number = typed(number);
    title = typed(title);
    dueOn = typed(dueOn);
    cableLot = typed(cableLot);
    connector = typed(connector);
    connectorTorqueNm = typed(connectorTorqueNm);
    connectorElectricalMm = typed(connectorElectricalMm);
    connectorCableMm = typed(connectorCableMm);
    method = Objects.requireNonNullElse(method, Method.TRANSMISSION);
    basis = Objects.requireNonNullElse(basis, Basis.SET);
    turns = Objects.requireNonNullElse(turns, Turns.ABSOLUTE);
    decisionRule = Objects.requireNonNullElse(decisionRule, DecisionRule.SIMPLE);
    nominalLengthMm = typed(nominalLengthMm);
    nominalLengthToleranceMm = typed(nominalLengthToleranceMm);
    nominalDelayNs = typed(nominalDelayNs);
    trimAllowanceMm = typed(trimAllowanceMm);
    cutResolutionMm = typed(cutResolutionMm);
    cutStandardUncertaintyMm = typed(cutStandardUncertaintyMm);
    tooShortPercent = typed(tooShortPercent);
    stretcherStartMm = typed(stretcherStartMm);
    aimPercent = typed(aimPercent);
    vswrLimit = typed(vswrLimit);
    referenceTemperatureC = typed(referenceTemperatureC);
    temperatureLowC = typed(temperatureLowC);
    temperatureHighC = typed(temperatureHighC);
    guardFactor = typed(guardFactor);
    frequencies = typed(frequencies);
    positions = typed(positions);
    serialPattern = typed(serialPattern);
    pool = typed(pool);
  }

  static OrderForm blank() {
    return started(Basis.SET, Turns.ABSOLUTE, "0", DecisionRule.SIMPLE);
  }

  static OrderForm of(OrderTemplate template) {
    return started(template.basis(), template.turns(), "", DecisionRule.GUARDED);
  }

  private static OrderForm started(
      Basis basis, Turns turns, String trimAllowanceMm, DecisionRule rule) {
    return new OrderForm(
        "",
        "",
        "",
        "",
        0,
        "",
        "",
        "",
        "",
        Method.TRANSMISSION,
        basis,
        turns,
        "",
        "",
        "",
        trimAllowanceMm,
        shown(0.1),
        "",
        "2",
        null,
        "",
        "30",
        "",
        "23",
        "",
        "",
        rule,
        "1",
        "",
        "",
        "",
        "");
  }

  /** The order's specification, to be revised. */
  static OrderForm toRevise(WorkOrder order) {
    LocalDate dueOn = order.dueOn();
    return of(order, order.number(), dueOn == null ? "" : dueOn.toString(), "");
  }

  /** The order as the beginning of another: its number, date, lot and serials are new. */
  static OrderForm copy(WorkOrder order, List<MatchedSet> sets, Map<Long, String> serialAt) {
    StringBuilder lines = new StringBuilder();
    for (MatchedSet set : sets) {
      for (SetPosition position : set.positions()) {
        StringJoiner line = new StringJoiner("; ", "", "\n").add(set.name()).add(position.label());
        line.add("").add(shown(position.offsetPhaseDeg())).add(shown(position.offsetDelayPs()));
        String master = set.masterSerial();
        if (master != null && master.equals(serialAt.get(position.id()))) {
          line.add("master");
        }
        lines.append(line);
      }
    }
    return of(order, "", "", lines.toString());
  }

  private static OrderForm of(WorkOrder order, String number, String dueOn, String positions) {
    Specification s = order.specification();
    return new OrderForm(
        number,
        order.title(),
        dueOn,
        "",
        s.cableTypeId(),
        s.connector(),
        shown(s.connectorTorqueNm()),
        shown(s.connectorElectricalMm()),
        shown(s.connectorCableMm()),
        s.method(),
        s.basis(),
        s.turns(),
        shown(s.nominalLengthMm()),
        shown(s.nominalLengthToleranceMm()),
        shown(s.nominalDelayNs()),
        shown(s.trimAllowanceMm()),
        shown(s.cutResolutionMm()),
        shown(s.cutStandardUncertaintyMm()),
        shown(moved(s.tooShortLimit(), 2)),
        s.lineStretcherId(),
        shown(s.stretcherStartMm()),
        shown(moved(s.aimFraction(), 2)),
        shown(s.vswrLimit()),
        shown(s.referenceTemperatureC()),
        shown(s.temperatureLowC()),
        shown(s.temperatureHighC()),
        s.decisionRule(),
        shown(s.guardFactor()),
        lines(s.frequencies()),
        positions,
        "",
        "");
  }

  private static String lines(List<FrequencySpecification> frequencies) {
    StringBuilder lines = new StringBuilder();
    for (FrequencySpecification f : frequencies) {
      String line =
          String.join(
              "; ",
              shown(moved(f.frequencyHz(), -HERTZ_DIGITS)),
              shown(f.toleranceDeg()),
              shown(f.insertionLossLimitDb()),
              shown(f.insertionLossSpreadDb()),
              shown(f.nominalPhaseDeg()));
      lines.append(line.replaceFirst("(; )+$", "")).append('\n');
    }
    return lines.toString();
  }

  /** All its digits: what is read back is the same number. */
  static String shown(@Nullable Double value) {
    return value == null ? "" : shown(BigDecimal.valueOf(value));
  }

  private static String shown(BigDecimal value) {
    return Texts.say(
        new Digits(value.signum() == 0 ? "0" : value.stripTrailingZeros().toPlainString()));
  }

  private static BigDecimal moved(double value, int places) {
    return BigDecimal.valueOf(value).movePointRight(places);
  }

  private static String typed(@Nullable String text) {
    return Objects.requireNonNullElse(text, "");
  }

  /** Reads everything; what can't be read is told by the answer. */
  TypedOrder read() {
    Reader reader = new Reader();
    LocalDate due = reader.checks.part(() -> date(dueOn));
    Specification specification = reader.specification(this);
    reader.positions(positions, serialPattern.isBlank() ? 3 : 2);
    reader.pool(pool);
    reader.fill(serialPattern.strip());
    return reader.order(number.strip(), title.strip(), due, cableLot.strip(), specification);
  }

  /** Title, due date and specification alone, to revise an order. */
  Revision readRevision() {
    Reader reader = new Reader();
    LocalDate due = reader.checks.part(() -> date(dueOn));
    Specification specification = reader.specification(this);
    reader.checks.done();
    return new Revision(title.strip(), due, specification);
  }

  /** What a revision may change. */
  record Revision(String title, @Nullable LocalDate dueOn, Specification specification) {}

  private static @Nullable LocalDate date(String text) {
    try {
      return text.isBlank() ? null : LocalDate.parse(text.strip());
    } catch (DateTimeParseException e) {
      throw InvalidInputException.of("dueOn", Sentence.of("order.noDateRead", text));
    }
  }

  static List<String> cells(String row) {
    return List.of(row.split(row.contains("\t") ? "\t" : ";", -1));
  }

  /** Collects problems instead of stopping at the first. */
  private static final class Reader {

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

    private Specification specification(OrderForm form) {
      if (form.cableTypeId == 0) {
        checks.problem("cableTypeId", Sentence.of("order.cableTypeMissing"));
      }
      boolean cuts =
          !form.trimAllowanceMm.strip().equals("0") || !form.cutStandardUncertaintyMm.isBlank();
      return new Specification(
          form.cableTypeId,
          form.connector.strip(),
          optional("connectorTorqueNm", form.connectorTorqueNm),
          zeroIfBlank("connectorElectricalMm", form.connectorElectricalMm),
          zeroIfBlank("connectorCableMm", form.connectorCableMm),
          form.method,
          form.basis,
          form.turns,
          number("nominalLengthMm", form.nominalLengthMm),
          number("nominalLengthToleranceMm", form.nominalLengthToleranceMm),
          optional("nominalDelayNs", form.nominalDelayNs),
          number("trimAllowanceMm", form.trimAllowanceMm),
          number("cutResolutionMm", form.cutResolutionMm),
          cuts ? number("cutStandardUncertaintyMm", form.cutStandardUncertaintyMm) : 0,
          number("tooShortPercent", form.tooShortPercent) / 100,
          form.lineStretcherId,
          optional("stretcherStartMm", form.stretcherStartMm),
          number("aimPercent", form.aimPercent) / 100,
          optional("vswrLimit", form.vswrLimit),
          number("referenceTemperatureC", form.referenceTemperatureC),
          optional("temperatureLowC", form.temperatureLowC),
          optional("temperatureHighC", form.temperatureHighC),
          form.decisionRule,
          number("guardFactor", form.guardFactor),
          frequencies(form.frequencies));
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
      int line = 0;
      for (String row : text.lines().toList()) {
        line++;
        if (row.isBlank()) {
          continue;
        }
        List<String> cells = cells(row);
        String at = "frequencies." + line + ".";
        list.add(
            new FrequencySpecification(
                hertz(number(at + "frequencyMhz", cell(cells, 0))),
                number(at + "tolerance", cell(cells, 1)),
                optional(at + "insertionLoss", cell(cells, 2)),
                optional(at + "lossSpread", cell(cells, 3)),
                optional(at + "nominalPhase", cell(cells, 4))));
        frequencyLines.add(line);
      }
      return list;
    }

    /** The number of hertz that the decimals mean. */
    private static double hertz(double megahertz) {
      return BigDecimal.valueOf(megahertz).movePointRight(HERTZ_DIGITS).doubleValue();
    }

    private void positions(String text, int fewestColumns) {
      int line = 0;
      for (String row : text.lines().toList()) {
        line++;
        if (row.isBlank()) {
          continue;
        }
        List<String> cells = cells(row);
        String at = "positions." + line + ".";
        if (cells.size() < fewestColumns) {
          checks.problem(at + "columns", Sentence.of("order.tooFewColumns"));
          continue;
        }
        position(cells, at, line);
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
      int line = 0;
      for (String row : text.lines().toList()) {
        line++;
        String serial = row.strip();
        if (serial.isEmpty()) {
          continue;
        }
        String field = "pool." + line + ".serial";
        List<String> all = checks.part(() -> SerialPattern.namesOf(field, serial));
        if (all != null) {
          for (String one : all) {
            poolSerials.add(new TypedOrder.PoolSerial(one, line));
          }
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
              () ->
                  SerialPattern.read("serialPattern", pattern).names("serialPattern", (int) blank));
      if (serials == null) {
        return;
      }
      int[] next = {0};
      sets.values()
          .forEach(
              placed ->
                  placed.replaceAll(
                      p ->
                          p.position.serial().isBlank()
                              ? p.withSerial(serials.get(next[0]++))
                              : p));
    }

    private TypedOrder order(
        String number,
        String title,
        @Nullable LocalDate due,
        String cableLot,
        Specification specification) {
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
              number,
              title,
              due,
              cableLot,
              specification,
              drafts,
              poolSerials.stream().map(TypedOrder.PoolSerial::serial).toList()),
          lines,
          poolSerials.stream().map(TypedOrder.PoolSerial::line).toList(),
          frequencyLines,
          checks.found());
    }

    private static String cell(List<String> cells, int column) {
      return column < cells.size() ? cells.get(column).strip() : "";
    }
  }
}
