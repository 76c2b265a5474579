package org.equiphase.workorder;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.StringJoiner;
import java.util.function.Function;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.web.Digits;
import org.equiphase.web.Texts;
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

  static final int HERTZ_DIGITS = 6;

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

  /** The order to be revised. */
  static OrderForm toRevise(WorkOrder order, List<MatchedSet> sets, Map<Long, String> serialAt) {
    LocalDate dueOn = order.dueOn();
    return of(
        order,
        order.number(),
        dueOn == null ? "" : dueOn.toString(),
        lines(sets, serialAt, position -> serialAt.getOrDefault(position.id(), "")));
  }

  /** The order as the beginning of another: its number, date, lot and serials are new. */
  static OrderForm copy(WorkOrder order, List<MatchedSet> sets, Map<Long, String> serialAt) {
    return of(order, "", "", lines(sets, serialAt, position -> ""));
  }

  private static String lines(
      List<MatchedSet> sets, Map<Long, String> serialAt, Function<SetPosition, String> serial) {
    StringBuilder lines = new StringBuilder();
    for (MatchedSet set : sets) {
      for (SetPosition position : set.positions()) {
        StringJoiner line = new StringJoiner("; ", "", "\n").add(set.name()).add(position.label());
        line.add(serial.apply(position));
        line.add(shown(position.offsetPhaseDeg())).add(shown(position.offsetDelayPs()));
        String master = set.masterSerial();
        if (master != null && master.equals(serialAt.get(position.id()))) {
          line.add("master");
        }
        lines.append(line);
      }
    }
    return lines.toString();
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
    return new OrderReader().read(this);
  }
}
