package org.equiphase.review;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Turns;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What came of cuts and settings, beside what they promised. */
@Component
class WorkOutcomes {

  private static final double COVERAGE = 2;
  private static final double MM_PER_M = 1e3;

  private final ReferenceChecks referenceChecks;
  private final Catalog catalog;

  WorkOutcomes(ReferenceChecks referenceChecks, Catalog catalog) {
    this.referenceChecks = referenceChecks;
    this.catalog = catalog;
  }

  /**
   * A cut or a setting and what came of it.
   *
   * @param readingId the next reading; null while there is none
   */
  record Work(Instruction instruction, @Nullable Long readingId, List<Outcome> outcomes) {
    Work {
      outcomes = List.copyOf(outcomes);
    }
  }

  /**
   * What came of it at one frequency.
   *
   * @param achievedErrorDeg against the target of the time, by the next reading
   * @param deviationDeg achieved less predicted
   * @param deviationMm the same as a length of the cable; positive where it ended too long
   * @param asPredicted whether it lies within ± 2 standard uncertainties; null where none is known
   */
  record Outcome(
      double frequencyHz,
      double predictedErrorDeg,
      @Nullable Double standardUncertaintyDeg,
      double achievedErrorDeg,
      double deviationDeg,
      double deviationMm,
      @Nullable Boolean asPredicted) {}

  /** Those of the instructions that were signed off, in their order. */
  List<Work> of(WorkOrder order, List<Instruction> instructions, List<Reading> readings) {
    ReadingDrifts drifts = referenceChecks.drifts(readings);
    List<Work> work = new ArrayList<>();
    for (Instruction instruction : instructions) {
      if (instruction.done() != null) {
        Reading next = instruction.firstAfter(readings).orElse(null);
        work.add(
            new Work(
                instruction,
                next == null ? null : next.id(),
                next == null ? List.of() : outcomes(order, instruction, next, drifts.at(next))));
      }
    }
    return work;
  }

  private List<Outcome> outcomes(
      WorkOrder order, Instruction instruction, Reading next, ReadingDrift drift) {
    VelocityFactor velocity = catalog.cableType(instruction.cableTypeId()).nominalVelocityFactor();
    boolean modulo = order.specification().turns() == Turns.MODULO_360;
    List<Outcome> outcomes = new ArrayList<>();
    for (int k = 0; k < instruction.predictions().size(); k++) {
      Instruction.Prediction predicted = instruction.predictions().get(k);
      double errorDeg =
          next.spots().get(k).phaseDeg()
              - drift.driftDeg(predicted.frequencyHz())
              - predicted.targetPhaseDeg();
      double achievedDeg = modulo ? WrappedPhase.wrapDeg(errorDeg) : errorDeg;
      double deviationDeg = achievedDeg - predicted.predictedErrorDeg();
      Double uncertainty = predicted.standardUncertaintyDeg();
      outcomes.add(
          new Outcome(
              predicted.frequencyHz(),
              predicted.predictedErrorDeg(),
              uncertainty,
              achievedDeg,
              deviationDeg,
              -deviationDeg
                  / velocity.degreesPerMetre(Frequency.ofHertz(predicted.frequencyHz()))
                  * MM_PER_M,
              uncertainty == null ? null : Math.abs(deviationDeg) <= COVERAGE * uncertainty));
    }
    return outcomes;
  }
}
