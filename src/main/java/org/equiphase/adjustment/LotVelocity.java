package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.FinishedCut;
import org.equiphase.matching.FinishedCut.Change;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.matching.VelocityFactorLearner;
import org.equiphase.matching.VelocityFactorLearning;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Component;

/** What the finished cuts of a cable lot say of its velocity factor. */
@Component
class LotVelocity {

  /** So many of the newest cuts leave little to learn from older ones. */
  private static final int MOST_CUTS = 200;

  // A cut that is read off a caliper is never exact.
  private static final double LEAST_CUT_MM = 0.01;

  private final InstructionTables instructions;
  private final Readings readings;
  private final ReferenceChecks referenceChecks;
  private final WorkOrders workOrders;

  LotVelocity(
      InstructionTables instructions,
      Readings readings,
      ReferenceChecks referenceChecks,
      WorkOrders workOrders) {
    this.instructions = instructions;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
    this.workOrders = workOrders;
  }

  /** The catalog's value with its spread, refined by the lot's cuts. */
  VelocityFactorLearning learn(CableType cable, String cableLot, double cutUncertaintyMm) {
    List<Instruction> done = instructions.doneCuts(cable.id(), cableLot, MOST_CUTS);
    List<Long> assemblyIds = done.stream().map(Instruction::assemblyId).distinct().toList();
    Map<Long, List<Reading>> valid = readings.valid(assemblyIds);
    Map<Long, String> serials = workOrders.serials(assemblyIds);
    ReadingDrifts drifts =
        referenceChecks.drifts(valid.values().stream().flatMap(List::stream).toList());
    List<FinishedCut> cuts = new ArrayList<>();
    for (Instruction cut : done) {
      List<Reading> ofAssembly = valid.getOrDefault(cut.assemblyId(), List.of());
      pair(cut, done, ofAssembly)
          .map(
              p -> {
                String serial = Objects.requireNonNull(serials.get(cut.assemblyId()));
                return finished(serial, cut, p, drifts, cable, cutUncertaintyMm);
              })
          .ifPresent(cuts::add);
    }
    return VelocityFactorLearner.learn(
        VelocityFactorEstimate.ofTolerance(cable.velocityFactor(), cable.velocityFactorTolerance()),
        cuts);
  }

  private record Pair(Reading before, Reading after) {}

  /** The readings around a cut; none where another cut lies between them, or a reading is void. */
  private static Optional<Pair> pair(
      Instruction cut, List<Instruction> done, List<Reading> readings) {
    boolean alone =
        done.stream()
            .noneMatch(
                other ->
                    other.id() != cut.id()
                        && other.assemblyId() == cut.assemblyId()
                        && other.readingId() == cut.readingId());
    for (int i = 0; alone && i + 1 < readings.size(); i++) {
      if (readings.get(i).id() == cut.readingId()) {
        return Optional.of(new Pair(readings.get(i), readings.get(i + 1)));
      }
    }
    return Optional.empty();
  }

  private static FinishedCut finished(
      String serial,
      Instruction cut,
      Pair pair,
      ReadingDrifts drifts,
      CableType cable,
      double cutUncertaintyMm) {
    double cutMm = cut.trimMm();
    Instruction.Done signedOff = cut.done();
    if (signedOff != null && signedOff.trimMm() != null) {
      cutMm = signedOff.trimMm();
    }
    List<Change> changes =
        PhaseChanges.between(
            pair.before(), pair.after(), drifts, VelocityFactor.of(cable.velocityFactor()), cutMm);
    return new FinishedCut(serial, cutMm, Math.max(cutUncertaintyMm, LEAST_CUT_MM), changes);
  }
}
