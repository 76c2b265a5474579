package org.equiphase.demo;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SplittableRandom;
import java.util.concurrent.ConcurrentHashMap;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Component;

/**
 * The cables of the demo shop as they really are: as long as their last reading says, less what was
 * cut since; where there is none, of a length that a cable of its order may have as made.
 */
@Component
@ConditionalOnProperty("equiphase.demo-data")
class SimulatedStock {

  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final Adjustments adjustments;
  private final Map<String, Double> asMadeMm = new ConcurrentHashMap<>();

  SimulatedStock(
      Catalog catalog, WorkOrders workOrders, Readings readings, Adjustments adjustments) {
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.readings = readings;
    this.adjustments = adjustments;
  }

  SimulatedCable cable(Assembly assembly) {
    Specification specification = workOrders.order(assembly.workOrderId()).specification();
    double lengthMm =
        asMadeMm.computeIfAbsent(assembly.serial(), serial -> asMadeMm(assembly, specification))
            - assembly.trimmedMm();
    SplittableRandom random = new SplittableRandom(assembly.serial().hashCode());
    return new SimulatedCable(
        type(specification),
        specification.referenceTemperatureC(),
        lengthMm,
        type(specification).velocityFactor(),
        airLineMm(specification, assembly.stretcherSettingMm()),
        0.02 + 0.01 * random.nextDouble(),
        0.02 + 0.01 * random.nextDouble());
  }

  private double asMadeMm(Assembly assembly, Specification specification) {
    Reading reading = readings.latest(assembly.id()).orElse(null);
    if (reading == null || reading.phaseModuloDeg() != null) {
      return specification.nominalLengthMm() + longByMm(assembly.serial(), specification);
    }
    List<Instruction> done =
        adjustments.history(assembly.id()).stream()
            .filter(instruction -> instruction.done() != null)
            .sorted(Comparator.comparing(instruction -> done(instruction).at()))
            .toList();
    double cutSinceMm = 0;
    Double settingMm = specification.stretcherStartMm();
    for (Instruction instruction : done) {
      boolean since = done(instruction).at().isAfter(reading.recordedAt());
      Double trimMm = done(instruction).trimMm();
      cutSinceMm += since && trimMm != null ? trimMm : 0;
      Double setMm = done(instruction).settingMm();
      settingMm = since || setMm == null ? settingMm : setMm;
    }
    Reading.Spot spot = reading.spots().get(reading.spots().size() / 2);
    SimulatedCable metre =
        new SimulatedCable(
            type(specification),
            specification.referenceTemperatureC(),
            1000,
            type(specification).velocityFactor(),
            0,
            0,
            0);
    double airDeg =
        -360
            * spot.frequencyHz()
            * airLineMm(specification, settingMm)
            / 1e3
            / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
    double measuredMm =
        1000
            * (spot.phaseDeg() - airDeg)
            / metre.phaseDeg(spot.frequencyHz(), specification.referenceTemperatureC());
    return measuredMm - cutSinceMm + assembly.trimmedMm();
  }

  private static Instruction.Done done(Instruction instruction) {
    return Objects.requireNonNull(instruction.done());
  }

  /** Too long where it may be cut, as a shop makes them; else either way. */
  private static double longByMm(String serial, Specification specification) {
    double share = new SplittableRandom(serial.hashCode() + 1L).nextDouble();
    return specification.trimAllowanceMm() > 0
        ? (0.1 + 0.4 * share)
            * Math.min(specification.nominalLengthToleranceMm(), specification.trimAllowanceMm())
        : (share - 0.5) * 0.6 * specification.nominalLengthToleranceMm();
  }

  private CableType type(Specification specification) {
    return catalog.cableType(specification.cableTypeId());
  }

  private double airLineMm(Specification specification, @Nullable Double settingMm) {
    Long stretcherId = specification.lineStretcherId();
    return stretcherId == null || settingMm == null
        ? 0
        : catalog.lineStretcher(stretcherId).toRf().electricalLengthMm(settingMm);
  }
}
