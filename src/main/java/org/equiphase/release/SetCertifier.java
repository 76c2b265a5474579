package org.equiphase.release;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.catalog.Adapter;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.ReadingEquipment;
import org.equiphase.measurement.Readings;
import org.equiphase.metrology.UncertaintyBudget;
import org.equiphase.release.CertifiedSet.Concession;
import org.equiphase.release.CertifiedSet.Equipment;
import org.equiphase.release.CertifiedSet.Limit;
import org.equiphase.release.CertifiedSet.Member;
import org.equiphase.release.CertifiedSet.Requirement;
import org.equiphase.release.CertifiedSet.Spot;
import org.equiphase.release.CertifiedSet.Spread;
import org.equiphase.release.CertifiedSet.Subject;
import org.equiphase.release.CertifiedSet.Taken;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Gathers what a certificate would say of a set as it stands. */
@Component
class SetCertifier {

  private final Catalog catalog;
  private final Readings readings;
  private final Concessions concessions;

  SetCertifier(Catalog catalog, Readings readings, Concessions concessions) {
    this.catalog = catalog;
    this.readings = readings;
    this.concessions = concessions;
  }

  CertifiedSet certified(SetPlan plan) {
    List<MemberPlan> measured =
        plan.members().stream()
            .filter(m -> m.reading() != null && !m.spots().isEmpty())
            .sorted(Comparator.comparing(m -> m.position().ordinal()))
            .toList();
    Map<Long, ReadingEquipment> equipment =
        readings.equipment(
            measured.stream().map(m -> Objects.requireNonNull(m.reading()).id()).toList());
    Specification specification = plan.order().specification();
    List<Concession> conceded =
        measured.stream()
            .filter(m -> m.verdict() == Verdict.CONCEDED)
            .flatMap(m -> concessions.of(m.assembly()).stream())
            .toList();
    return new CertifiedSet(
        subject(plan),
        requirement(specification, measured),
        measured.stream().map(m -> member(specification, m, conceded)).toList(),
        spreads(specification, measured),
        equipment(measured, equipment),
        conceded);
  }

  private static Subject subject(SetPlan plan) {
    WorkOrder order = plan.order();
    Specification specification = order.specification();
    return new Subject(
        order.number(),
        order.revision(),
        order.title(),
        plan.set().id(),
        plan.set().name(),
        plan.set().masterSerial(),
        plan.cableType().name(),
        specification.connector(),
        specification.connectorTorqueNm());
  }

  private static Requirement requirement(Specification s, List<MemberPlan> measured) {
    List<Limit> limits = new ArrayList<>();
    for (int k = 0; k < s.frequencies().size(); k++) {
      FrequencySpecification f = s.frequencies().get(k);
      double acceptanceDeg =
          measured.isEmpty() ? f.toleranceDeg() : measured.get(0).spots().get(k).acceptanceDeg();
      limits.add(
          new Limit(
              f.frequencyHz(),
              f.toleranceDeg(),
              acceptanceDeg,
              f.insertionLossLimitDb(),
              f.insertionLossSpreadDb()));
    }
    return new Requirement(
        s.method(),
        s.basis(),
        s.turns(),
        s.nominalLengthMm(),
        s.referenceTemperatureC(),
        s.decisionRule(),
        s.guardFactor(),
        s.vswrLimit(),
        limits);
  }

  private Member member(Specification specification, MemberPlan m, List<Concession> conceded) {
    Assembly assembly = m.assembly();
    Reading reading = Objects.requireNonNull(m.reading());
    Long stretcherId = assembly.lineStretcherId(specification);
    ReadingDrift drift = m.drift();
    return new Member(
        m.position().label(),
        m.position().offsetPhaseDeg(),
        m.position().offsetDelayPs(),
        assembly.serial(),
        assembly.cableLot(),
        assembly.trimmedMm(),
        stretcherId == null ? null : catalog.lineStretcher(stretcherId).name(),
        assembly.stretcherSettingMm(),
        m.isMoves() ? null : m.probabilityIn(),
        m.verdict() == Verdict.CONCEDED,
        conceded.stream()
            .filter(c -> c.serial().equals(assembly.serial()))
            .map(Concession::number)
            .findFirst()
            .orElse(null),
        new Taken(
            reading.id(),
            reading.takenAt(),
            reading.recordedBy(),
            catalog.bench(reading.benchId()).name(),
            reading.temperatureC(),
            drift != null && drift.state() == ReadingDrift.State.BRACKETED),
        spots(m, reading));
  }

  private static List<Spot> spots(MemberPlan m, Reading reading) {
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < m.spots().size(); k++) {
      SpotPlan p = m.spots().get(k);
      double phaseDeg = new UncertaintyBudget(p.contributions()).standardUncertainty();
      spots.add(
          new Spot(
              p.frequencyHz(),
              p.sum().phaseDeg(),
              CertifiedSet.COVERAGE_FACTOR * phaseDeg,
              p.targetPhaseDeg(),
              p.errorDeg(),
              CertifiedSet.COVERAGE_FACTOR * p.standardUncertaintyDeg(),
              p.toleranceDeg(),
              p.acceptanceDeg(),
              reading.spots().get(k).insertionLossDb(),
              reading.spots().get(k).vswr()));
    }
    return spots;
  }

  private static List<Spread> spreads(Specification specification, List<MemberPlan> measured) {
    List<Spread> spreads = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size() && !measured.isEmpty(); k++) {
      int at = k;
      spreads.add(
          new Spread(
              specification.frequencies().get(k).frequencyHz(),
              spread(measured.stream().map(m -> m.spots().get(at).errorDeg()).toList()),
              lossSpread(measured, k)));
    }
    return spreads;
  }

  private static @Nullable Double lossSpread(List<MemberPlan> measured, int k) {
    List<Double> losses = new ArrayList<>();
    for (MemberPlan m : measured) {
      Double loss = Objects.requireNonNull(m.reading()).spots().get(k).insertionLossDb();
      if (loss == null) {
        return null;
      }
      losses.add(loss);
    }
    return spread(losses);
  }

  private static double spread(List<Double> values) {
    return values.stream().mapToDouble(v -> v).max().orElse(0)
        - values.stream().mapToDouble(v -> v).min().orElse(0);
  }

  private List<Equipment> equipment(
      List<MemberPlan> measured, Map<Long, ReadingEquipment> byReading) {
    Set<Equipment> lines = new LinkedHashSet<>();
    for (MemberPlan m : measured) {
      long readingId = Objects.requireNonNull(m.reading()).id();
      lines.add(line(Objects.requireNonNull(byReading.get(readingId))));
    }
    return List.copyOf(lines);
  }

  private Equipment line(ReadingEquipment used) {
    Bench bench = catalog.bench(used.benchId());
    Instrument instrument = catalog.instrument(used.instrumentId());
    Long endStandardId = used.endStandardId();
    return new Equipment(
        bench.name(),
        instrument.name(),
        instrument.serialNumber(),
        Objects.requireNonNullElse(used.instrumentCalibrationDue(), instrument.calibrationDue()),
        Objects.requireNonNullElse(used.benchCalibrationDue(), bench.calibrationDue()),
        endStandardId == null ? null : catalog.endStandard(endStandardId).name(),
        bench.adapters().stream().map(Adapter::name).toList());
  }
}
