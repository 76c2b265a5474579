package org.equiphase.workorder;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.web.Checks;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;

/** Says everything that is wrong with an order before any of it is stored. */
final class OrderChecks {

  private static final double MAX_FREQUENCY_HZ = 1e12;
  private static final double MAX_LENGTH_MM = 1e6;

  // An address can't carry / \ % ; ? #, a barcode no spaces and nothing beyond ASCII.
  private static final Pattern NUMBER = Pattern.compile("[^/\\\\%;?#\\p{Cntrl}]*");
  private static final Pattern SERIAL = Pattern.compile("[\\x21-\\x7E&&[^/\\\\%;?#]]*");

  /** What readings were reduced with: after the first they would say something else. */
  private static final Set<String> KEPT_WITH_READINGS =
      Set.of(
          "cableTypeId",
          "method",
          "basis",
          "nominalLengthMm",
          "lineStretcherId",
          "stretcherStartMm",
          "referenceTemperatureC");

  // Pages of their own.
  private static final Set<String> RESERVED = Set.of("new", "imports");

  private final Catalog catalog;
  private final Checks checks = new Checks();

  OrderChecks(Catalog catalog) {
    this.catalog = catalog;
  }

  void order(OrderDraft draft) {
    if (RESERVED.contains(draft.number())) {
      checks.problem("number", Sentence.of("order.numberReserved", draft.number()));
    }
    checks.text("title", draft.title(), 200);
    if (!draft.cableLot().isEmpty()) {
      checks.text("cableLot", draft.cableLot(), 40);
    }
    identifier("number", draft.number(), NUMBER, "order.allowedInNumber");
    specification(draft.specification());
    members(draft);
    checks.done();
  }

  void change(String title, Specification specification, List<MatchedSet> sets) {
    checks.text("title", title, 200);
    specification(specification);
    if (specification.basis() == Basis.MASTER
        && sets.stream().anyMatch(set -> set.masterSerial() == null)) {
      checks.problem("specification.basis", Sentence.of("order.noMasters"));
    }
    checks.done();
  }

  /** A revision of work that has begun keeps what that work rests on. */
  void revision(WorkOrder before, Specification after, List<MatchedSet> sets, boolean measured) {
    Set<String> kept = new HashSet<>();
    if (measured) {
      kept.addAll(KEPT_WITH_READINGS);
      if (!hertz(before.specification()).equals(hertz(after))) {
        checks.problem("specification.frequencies", Sentence.of("order.keptFrequencies"));
      }
    }
    if (sets.stream().anyMatch(set -> !set.lockedCenterDeg().isEmpty())) {
      kept.add("nominalDelayNs");
    }
    for (RevisionChange change : RevisionChange.between(before.specification(), after, catalog)) {
      if (kept.contains(change.field())) {
        checks.problem(
            "specification." + change.field(),
            Sentence.of(
                change.field().equals("nominalDelayNs") ? "order.keptDelay" : "order.keptField",
                String.valueOf(change.before())));
      }
    }
    checks.done();
  }

  private static List<Double> hertz(Specification specification) {
    return specification.frequencies().stream().map(FrequencySpecification::frequencyHz).toList();
  }

  void replacement(String newSerial, String reason) {
    serialNumber("newSerial", newSerial);
    checks.text("reason", reason, 500);
    checks.done();
  }

  private void specification(Specification s) {
    String at = "specification.";
    checks
        .text(at + "connector", s.connector(), 80)
        .inRange(at + "connectorElectricalMm", s.connectorElectricalMm(), 0, 1000)
        .inRange(at + "connectorCableMm", s.connectorCableMm(), 0, 1000)
        .positive(at + "nominalLengthMm", s.nominalLengthMm(), MAX_LENGTH_MM)
        .inRange(at + "nominalLengthToleranceMm", s.nominalLengthToleranceMm(), 0, MAX_LENGTH_MM)
        .inRange(at + "trimAllowanceMm", s.trimAllowanceMm(), 0, s.nominalLengthMm())
        .positive(at + "cutResolutionMm", s.cutResolutionMm(), 100)
        .inRange(at + "cutStandardUncertaintyMm", s.cutStandardUncertaintyMm(), 0, 100)
        .inRange(at + "tooShortLimit", s.tooShortLimit(), 0.0001, 0.5)
        .positive(at + "aimFraction", s.aimFraction(), 1)
        .inRange(at + "referenceTemperatureC", s.referenceTemperatureC(), -100, 300)
        .inRange(at + "guardFactor", s.guardFactor(), 0, 10);
    if (s.connectorTorqueNm() != null) {
      checks.positive(at + "connectorTorqueNm", s.connectorTorqueNm(), 100);
    }
    if (s.nominalDelayNs() != null) {
      checks.positive(at + "nominalDelayNs", s.nominalDelayNs(), 1e6);
    }
    if (s.vswrLimit() != null) {
      checks.inRange(at + "vswrLimit", s.vswrLimit(), 1, 1000);
      if (s.method().isReflection()) {
        // The open or shorted far end reflects all there is: every assembly would be held.
        checks.problem(at + "vswrLimit", Sentence.of("order.vswrInReflection"));
      }
    }
    if (s.cableTypeId() == 0) {
      checks.problem(at + "cableTypeId", Sentence.of("order.cableTypeMissing"));
    } else if (2 * s.connectorElectricalMm()
        >= s.nominalLengthMm() / catalog.cableType(s.cableTypeId()).velocityFactor()) {
      // Both connectors and their stripped ends have to leave some cable between them.
      checks.problem(
          at + "connectorElectricalMm",
          Sentence.of("order.connectorsTooLong", Digits.of(s.connectorElectricalMm())));
    }
    temperatureRange(s, at);
    stretcher(s, at);
    frequencies(s, at);
  }

  private void temperatureRange(Specification s, String at) {
    Double low = s.temperatureLowC();
    Double high = s.temperatureHighC();
    if (low == null && high == null) {
      return;
    }
    if (low == null || high == null) {
      checks.problem(
          at + (low == null ? "temperatureLowC" : "temperatureHighC"),
          Sentence.of("order.bothEnds"));
      return;
    }
    checks
        .inRange(at + "temperatureLowC", low, -273, 1000)
        .inRange(at + "temperatureHighC", high, low, 1000);
  }

  private void stretcher(Specification s, String at) {
    if (s.lineStretcherId() == null) {
      if (s.stretcherStartMm() != null) {
        checks.problem(at + "stretcherStartMm", Sentence.of("order.startWithoutStretcher"));
      }
      return;
    }
    LineStretcher stretcher = catalog.lineStretcher(s.lineStretcherId());
    if (s.stretcherStartMm() == null) {
      checks.problem(at + "stretcherStartMm", Sentence.of("order.startMissing"));
    } else {
      checks.inRange(
          at + "stretcherStartMm",
          s.stretcherStartMm(),
          stretcher.lockMinMm(),
          stretcher.lockMaxMm());
    }
  }

  private void frequencies(Specification s, String at) {
    if (s.frequencies().isEmpty()) {
      checks.problem(at + "frequencies", Sentence.of("order.noFrequencies"));
    }
    double below = 0;
    for (int k = 0; k < s.frequencies().size(); k++) {
      FrequencySpecification f = s.frequencies().get(k);
      String field = at + "frequencies[" + k + "].";
      checks
          .positive(field + "frequencyHz", f.frequencyHz(), MAX_FREQUENCY_HZ)
          .positive(field + "toleranceDeg", f.toleranceDeg(), 180);
      if (f.frequencyHz() <= below) {
        checks.problem(
            field + "frequencyHz",
            Sentence.of("order.risingFrequencies", Digits.of(f.frequencyHz())));
      }
      below = f.frequencyHz();
      if (f.insertionLossLimitDb() != null) {
        checks.positive(field + "insertionLossLimitDb", f.insertionLossLimitDb(), 1000);
      }
      if (f.insertionLossSpreadDb() != null) {
        checks.positive(field + "insertionLossSpreadDb", f.insertionLossSpreadDb(), 1000);
      }
      if (f.nominalPhaseDeg() != null) {
        checks.inRange(field + "nominalPhaseDeg", f.nominalPhaseDeg(), -1e9, 1e9);
        if (s.basis() != Basis.NOMINAL) {
          checks.problem(field + "nominalPhaseDeg", Sentence.of("order.onlyNominal"));
        }
      }
    }
    if (s.turns() == Turns.ABSOLUTE
        && s.frequencies().stream().anyMatch(f -> f.nominalPhaseDeg() != null)
        && s.nominalDelayNs() == null) {
      checks.problem(at + "nominalDelayNs", Sentence.of("order.delayMissing"));
    }
  }

  private void members(OrderDraft draft) {
    Set<String> serials = new HashSet<>();
    Set<String> names = new HashSet<>();
    for (int i = 0; i < draft.sets().size(); i++) {
      set(draft.specification().basis(), draft.sets().get(i), i, names, serials);
    }
    for (int i = 0; i < draft.poolSerials().size(); i++) {
      serial("poolSerials[" + i + "]", draft.poolSerials().get(i), serials);
    }
    if (serials.isEmpty()) {
      checks.problem("sets", Sentence.of("order.noSerials"));
    }
  }

  private void set(Basis basis, SetDraft set, int i, Set<String> names, Set<String> serials) {
    String at = "sets[" + i + "].";
    checks.text(at + "name", set.name(), 40);
    if (!names.add(set.name())) {
      checks.problem(at + "name", Sentence.of("order.setTwice", set.name()));
    }
    if (set.positions().isEmpty()) {
      checks.problem(at + "positions", Sentence.of("order.noPositions"));
    }
    positions(set, at, serials);
    master(basis, set, at);
  }

  private void positions(SetDraft set, String at, Set<String> serials) {
    Set<String> labels = new HashSet<>();
    for (int p = 0; p < set.positions().size(); p++) {
      PositionDraft position = set.positions().get(p);
      String field = at + "positions[" + p + "].";
      checks
          .text(field + "label", position.label(), 40)
          .inRange(field + "offsetPhaseDeg", position.offsetPhaseDeg(), -1e6, 1e6)
          .inRange(field + "offsetDelayPs", position.offsetDelayPs(), -1e6, 1e6);
      if (!labels.add(position.label())) {
        checks.problem(field + "label", Sentence.of("order.labelTwice", position.label()));
      }
      serial(field + "serial", position.serial(), serials);
    }
  }

  private void serialNumber(String field, String serial) {
    identifier(field, serial, SERIAL, "order.allowedInSerial");
  }

  private void identifier(String field, String text, Pattern allowed, String refusal) {
    checks.text(field, text, 40);
    if (!allowed.matcher(text).matches()) {
      checks.problem(field, Sentence.of(refusal, text));
    }
  }

  private void serial(String field, String serial, Set<String> serials) {
    serialNumber(field, serial);
    if (!serials.add(serial)) {
      checks.problem(field, Sentence.of("order.serialTwice", serial));
    }
  }

  private void master(Basis basis, SetDraft set, String at) {
    List<String> serials = set.positions().stream().map(PositionDraft::serial).toList();
    String master = set.masterSerial();
    if (basis == Basis.MASTER && (master == null || !serials.contains(master))) {
      checks.problem(
          at + "masterSerial", Sentence.of("order.masterMissing", String.valueOf(master)));
    }
    if (basis != Basis.MASTER && master != null) {
      checks.problem(at + "masterSerial", Sentence.of("order.onlyMaster"));
    }
  }

  /** Sets that are added to an order, of serials that are known already. */
  void added(Basis basis, List<SetDraft> sets, Set<String> takenNames) {
    Set<String> names = new HashSet<>(takenNames);
    Set<String> serials = new HashSet<>();
    for (int i = 0; i < sets.size(); i++) {
      set(basis, sets.get(i), i, names, serials);
    }
    checks.done();
  }

  /**
   * All sets of an order as a revision asks for them: those that it has keep their positions and
   * members, and their offsets once work on them has begun.
   *
   * @param serialAt serial numbers of the members now, by position
   * @param begun ids of the sets that were worked on
   */
  void revisedSets(
      Basis basis,
      List<MatchedSet> present,
      Map<Long, String> serialAt,
      Set<Long> begun,
      List<SetDraft> asked) {
    Set<String> names = new HashSet<>();
    Set<String> serials = new HashSet<>();
    for (int i = 0; i < asked.size(); i++) {
      SetDraft draft = asked.get(i);
      set(basis, draft, i, names, serials);
      for (MatchedSet set : present) {
        if (set.name().equals(draft.name())) {
          kept(set, serialAt, begun.contains(set.id()), draft, "sets[" + i + "].");
        }
      }
    }
    for (MatchedSet set : present) {
      if (!names.contains(set.name())) {
        checks.problem("sets", Sentence.of("order.setStays", set.name()));
      }
    }
    checks.done();
  }

  private void kept(
      MatchedSet set, Map<Long, String> serialAt, boolean begun, SetDraft draft, String at) {
    List<String> labels = set.positions().stream().map(SetPosition::label).toList();
    if (!draft.positions().stream().map(PositionDraft::label).toList().equals(labels)) {
      checks.problem(
          at + "positions",
          Sentence.of("order.positionsStay", set.name(), String.join(", ", labels)));
      return;
    }
    if (!Objects.equals(set.masterSerial(), draft.masterSerial())) {
      checks.problem(
          at + "masterSerial",
          Sentence.of("order.masterKept", set.name(), String.valueOf(set.masterSerial())));
    }
    for (int p = 0; p < labels.size(); p++) {
      SetPosition position = set.positions().get(p);
      PositionDraft asked = draft.positions().get(p);
      String field = at + "positions[" + p + "].";
      String serial = serialAt.getOrDefault(position.id(), "");
      if (!asked.serial().equals(serial)) {
        checks.problem(field + "serial", Sentence.of("order.serialStays", asked.serial(), serial));
      }
      if (begun && asked.movesOffset(position)) {
        checks.problem(
            field
                + (asked.offsetPhaseDeg() == position.offsetPhaseDeg()
                    ? "offsetDelayPs"
                    : "offsetPhaseDeg"),
            Sentence.of("order.offsetStays", set.name()));
      }
    }
  }
}
