package org.equiphase.review;

import java.util.List;
import java.util.stream.IntStream;
import org.equiphase.adjustment.Instruction;
import org.equiphase.measurement.Reading;
import org.equiphase.review.DecisionNumbers.Spot;
import org.equiphase.sheet.Code128;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/**
 * What a decision of QA was made on and what it says, to be printed. The history ends where the
 * decision was signed.
 *
 * @param stretcher name of the stretcher that the decision fits; null for none
 * @param readings the newest first, voided ones too
 * @param work what was cut or set, the newest first
 */
record NonconformanceReport(
    Disposition disposition,
    WorkOrder order,
    String cableType,
    @Nullable String stretcher,
    List<ReadingLine> readings,
    List<WorkLine> work) {

  // As the solver's own: limits are inclusive, to within this.
  private static final double NEGLIGIBLE_DEG = 1e-9;

  NonconformanceReport {
    readings = List.copyOf(readings);
    work = List.copyOf(work);
  }

  /** A reading with what its bench had drifted by, per frequency. */
  record ReadingLine(Reading reading, String bench, List<CorrectedSpot> spots) {

    ReadingLine {
      spots = List.copyOf(spots);
    }
  }

  /**
   * A reading at one frequency.
   *
   * @param phaseDeg insertion phase with all corrections, drift taken off
   */
  record CorrectedSpot(Reading.Spot spot, double driftDeg, double phaseDeg) {}

  /** A cut or a setting with what it promised and what it came to. */
  record WorkLine(Instruction instruction, List<Outcome> outcomes) {

    WorkLine {
      outcomes = List.copyOf(outcomes);
    }
  }

  /**
   * One frequency.
   *
   * @param foundDeg error at the next reading, counted from the same target; null without one
   */
  record Outcome(Instruction.Prediction prediction, @Nullable Double foundDeg) {}

  /** What was observed at one frequency, beside what is asked. */
  record Finding(Spot observed, FrequencySpecification asked, @Nullable Double vswrLimit) {

    public @Nullable Double expandedDeg() {
      Double u = observed.standardUncertaintyDeg();
      return u == null ? null : 2 * u;
    }

    public Sentence words() {
      Double errorDeg = observed.errorDeg();
      Double acceptanceDeg = observed.acceptanceDeg();
      if (exceeds(observed.insertionLossDb(), asked.insertionLossLimitDb())) {
        return Sentence.of("report.lossOut");
      }
      if (exceeds(observed.vswr(), vswrLimit)) {
        return Sentence.of("report.vswrOut");
      }
      if (errorDeg == null || acceptanceDeg == null) {
        return Sentence.of("report.notCounted");
      }
      if (Math.abs(errorDeg) > observed.toleranceDeg() + NEGLIGIBLE_DEG) {
        return Sentence.of("report.outOfTolerance");
      }
      return Sentence.of(
          Math.abs(errorDeg) > acceptanceDeg + NEGLIGIBLE_DEG
              ? "report.inGuardBand"
              : "report.accepted");
    }

    private static boolean exceeds(@Nullable Double value, @Nullable Double limit) {
      return value != null && limit != null && value > limit;
    }
  }

  public DecisionNumbers numbers() {
    return disposition.observed();
  }

  public Code128 barcode() {
    return Code128.of(disposition.serial());
  }

  public List<Finding> findings() {
    List<Spot> spots = numbers().spots();
    var asked = order.specification().frequencies();
    return IntStream.range(0, spots.size())
        .mapToObj(k -> new Finding(spots.get(k), asked.get(k), order.specification().vswrLimit()))
        .toList();
  }

  public Sentence reason() {
    return Sentence.of("disposition.reason." + disposition.reasonCode().name());
  }

  public Sentence meaning(Disposition.Signature signature) {
    return Sentence.of("disposition.meaning." + signature.meaning().name());
  }

  /** What may hurt someone or ruin a part in what was decided. */
  public Sentence caution() {
    return Sentence.of(
        switch (disposition.kind()) {
          case TRIM_AGAIN, RECENTRE -> "report.caution.cut";
          case CONCESSION -> "report.caution.concession";
          case SCRAP, REPLACE -> "report.caution.part";
          case REMEASURE, FIT_STRETCHER, SWAP -> "report.caution.connect";
        });
  }
}
