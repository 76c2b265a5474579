package org.equiphase.workorder;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
 * An order as typed on the page: everything is text until it is read.
 *
 * @param frequencies a line per frequency: MHz; tolerance °; insertion-loss limit dB; its spread
 *     dB; nominal °
 * @param positions a line per position: set; position; serial; offset °; offset ps; "master"
 * @param pool a line per serial number
 */
record OrderForm(
    String number,
    String title,
    String dueOn,
    String cableLot,
    long cableTypeId,
    String connector,
    String connectorTorqueNm,
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
    String pool) {

  static OrderForm blank() {
    return new OrderForm(
        "",
        "",
        "",
        "",
        0,
        "",
        "",
        Method.TRANSMISSION,
        Basis.SET,
        Turns.ABSOLUTE,
        "",
        "",
        "",
        "0",
        Texts.say(new Digits("0.1")),
        "",
        "2",
        null,
        "",
        "30",
        "",
        "23",
        "",
        "",
        DecisionRule.SIMPLE,
        "1",
        "",
        "",
        "");
  }

  /** Reads everything, and says everything that can't be read. */
  OrderDraft read() {
    Reader reader = new Reader();
    LocalDate due = reader.checks.part(() -> date(dueOn));
    Specification specification =
        new Specification(
            cableTypeId,
            connector.strip(),
            reader.optional("connectorTorqueNm", connectorTorqueNm),
            method,
            basis,
            turns,
            reader.number("nominalLengthMm", nominalLengthMm),
            reader.number("nominalLengthToleranceMm", nominalLengthToleranceMm),
            reader.optional("nominalDelayNs", nominalDelayNs),
            reader.number("trimAllowanceMm", trimAllowanceMm),
            reader.number("cutResolutionMm", cutResolutionMm),
            trimAllowanceMm.strip().equals("0") && cutStandardUncertaintyMm.isBlank()
                ? 0
                : reader.number("cutStandardUncertaintyMm", cutStandardUncertaintyMm),
            reader.number("tooShortPercent", tooShortPercent) / 100,
            lineStretcherId,
            reader.optional("stretcherStartMm", stretcherStartMm),
            reader.number("aimPercent", aimPercent) / 100,
            reader.optional("vswrLimit", vswrLimit),
            reader.number("referenceTemperatureC", referenceTemperatureC),
            reader.optional("temperatureLowC", temperatureLowC),
            reader.optional("temperatureHighC", temperatureHighC),
            decisionRule,
            reader.number("guardFactor", guardFactor),
            reader.frequencies(frequencies));
    List<SetDraft> sets = reader.sets(positions);
    List<String> serials = pool.lines().map(String::strip).filter(s -> !s.isEmpty()).toList();
    reader.checks.done();
    return new OrderDraft(
        number.strip(), title.strip(), due, cableLot.strip(), specification, sets, serials);
  }

  private static @Nullable LocalDate date(String text) {
    try {
      return text.isBlank() ? null : LocalDate.parse(text.strip());
    } catch (DateTimeParseException e) {
      throw InvalidInputException.of("dueOn", Sentence.of("order.noDateRead", text));
    }
  }

  /** Collects problems instead of stopping at the first. */
  private static final class Reader {

    private final Checks checks = new Checks();

    private double number(String field, String text) {
      Double value = checks.part(() -> Numbers.read(field, text));
      return value == null ? 1 : value;
    }

    private @Nullable Double optional(String field, String text) {
      return checks.part(() -> Numbers.readOptional(field, text));
    }

    private List<FrequencySpecification> frequencies(String text) {
      List<FrequencySpecification> list = new ArrayList<>();
      int line = 0;
      for (String row : text.lines().toList()) {
        line++;
        if (row.isBlank()) {
          continue;
        }
        String[] cells = cells(row);
        String at = "frequencies." + line + ".";
        list.add(
            new FrequencySpecification(
                number(at + "frequencyMhz", cell(cells, 0)) * 1e6,
                number(at + "tolerance", cell(cells, 1)),
                optional(at + "insertionLoss", cell(cells, 2)),
                optional(at + "lossSpread", cell(cells, 3)),
                optional(at + "nominalPhase", cell(cells, 4))));
      }
      return list;
    }

    private List<SetDraft> sets(String text) {
      Map<String, List<PositionDraft>> positions = new LinkedHashMap<>();
      Map<String, String> masters = new LinkedHashMap<>();
      int line = 0;
      for (String row : text.lines().toList()) {
        line++;
        if (row.isBlank()) {
          continue;
        }
        String[] cells = cells(row);
        String at = "positions." + line + ".";
        if (cells.length < 3) {
          checks.problem(at + "columns", Sentence.of("order.tooFewColumns"));
          continue;
        }
        String set = cell(cells, 0);
        String serial = cell(cells, 2);
        Double offsetDeg = optional(at + "offsetDeg", cell(cells, 3));
        Double offsetPs = optional(at + "offsetPs", cell(cells, 4));
        positions
            .computeIfAbsent(set, s -> new ArrayList<>())
            .add(
                new PositionDraft(
                    cell(cells, 1),
                    serial,
                    offsetDeg == null ? 0 : offsetDeg,
                    offsetPs == null ? 0 : offsetPs));
        if (cell(cells, 5).equalsIgnoreCase("master")) {
          masters.put(set, serial);
        }
      }
      List<SetDraft> sets = new ArrayList<>();
      positions.forEach((name, list) -> sets.add(new SetDraft(name, masters.get(name), list)));
      return sets;
    }

    private static String[] cells(String row) {
      return row.split(row.contains("\t") ? "\t" : ";", -1);
    }

    private static String cell(String[] cells, int column) {
      return column < cells.length ? cells[column].strip() : "";
    }
  }
}
