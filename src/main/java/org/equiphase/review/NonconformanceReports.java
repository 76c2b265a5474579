package org.equiphase.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Turns;
import org.equiphase.measurement.BenchDrift;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.review.NonconformanceReport.CorrectedSpot;
import org.equiphase.review.NonconformanceReport.Outcome;
import org.equiphase.review.NonconformanceReport.ReadingLine;
import org.equiphase.review.NonconformanceReport.WorkLine;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/** Gathers what the report of a decision shows. */
@Service
@Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
class NonconformanceReports {

  private final Dispositions dispositions;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Readings readings;
  private final ReferenceChecks referenceChecks;
  private final Adjustments adjustments;

  NonconformanceReports(
      Dispositions dispositions,
      WorkOrders workOrders,
      Catalog catalog,
      Readings readings,
      ReferenceChecks referenceChecks,
      Adjustments adjustments) {
    this.dispositions = dispositions;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
    this.adjustments = adjustments;
  }

  NonconformanceReport report(long dispositionId) {
    Disposition disposition = dispositions.disposition(dispositionId);
    WorkOrder order = workOrders.orderByNumber(disposition.orderNumber());
    Instant until = disposition.decided().at();
    List<ReadingLine> lines =
        lines(
            readings.history(disposition.assemblyId()).stream()
                .filter(r -> !r.recordedAt().isAfter(until))
                .toList());
    Long stretcherId = disposition.terms().lineStretcherId();
    return new NonconformanceReport(
        disposition,
        order,
        catalog.cableType(order.specification().cableTypeId()).name(),
        stretcherId == null ? null : catalog.lineStretcher(stretcherId).name(),
        lines,
        work(disposition, order, lines, until));
  }

  private List<ReadingLine> lines(List<Reading> history) {
    Map<Long, BenchDrift> drifts = referenceChecks.drifts(history);
    List<ReadingLine> lines = new ArrayList<>();
    for (Reading reading : history) {
      ReadingDrift drift =
          Objects.requireNonNull(drifts.get(reading.benchId())).at(reading.takenAt());
      lines.add(
          new ReadingLine(
              reading,
              catalog.bench(reading.benchId()).name(),
              reading.spots().stream()
                  .map(
                      spot -> {
                        double driftDeg = drift.driftDeg(spot.frequencyHz());
                        return new CorrectedSpot(spot, driftDeg, spot.phaseDeg() - driftDeg);
                      })
                  .toList()));
    }
    return lines;
  }

  private List<WorkLine> work(
      Disposition disposition, WorkOrder order, List<ReadingLine> lines, Instant until) {
    List<WorkLine> work = new ArrayList<>();
    for (Instruction instruction : adjustments.history(disposition.assemblyId())) {
      Instruction.Done done = instruction.done();
      if (done != null && !done.at().isAfter(until)) {
        work.add(new WorkLine(instruction, outcomes(order, instruction, next(lines, done.at()))));
      }
    }
    return work;
  }

  /** The first valid reading that was taken after the work. */
  private static @Nullable ReadingLine next(List<ReadingLine> lines, Instant doneAt) {
    return lines.stream()
        .filter(l -> l.reading().voided() == null && l.reading().takenAt().isAfter(doneAt))
        .min(Comparator.comparing(l -> l.reading().id()))
        .orElse(null);
  }

  private static List<Outcome> outcomes(
      WorkOrder order, Instruction instruction, @Nullable ReadingLine next) {
    List<Outcome> outcomes = new ArrayList<>();
    for (int k = 0; k < instruction.predictions().size(); k++) {
      Instruction.Prediction prediction = instruction.predictions().get(k);
      Double foundDeg = null;
      if (next != null) {
        double errorDeg = next.spots().get(k).phaseDeg() - prediction.targetPhaseDeg();
        foundDeg =
            order.specification().turns() == Turns.MODULO_360
                ? Math.IEEEremainder(errorDeg, 360)
                : errorDeg;
      }
      outcomes.add(new Outcome(prediction, foundDeg));
    }
    return outcomes;
  }
}
