package org.equiphase.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.review.NonconformanceReport.CorrectedSpot;
import org.equiphase.review.NonconformanceReport.Outcome;
import org.equiphase.review.NonconformanceReport.ReadingLine;
import org.equiphase.review.NonconformanceReport.WorkLine;
import org.equiphase.review.WorkOutcomes.Work;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
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
  private final WorkOutcomes outcomes;

  NonconformanceReports(
      Dispositions dispositions,
      WorkOrders workOrders,
      Catalog catalog,
      Readings readings,
      ReferenceChecks referenceChecks,
      Adjustments adjustments,
      WorkOutcomes outcomes) {
    this.dispositions = dispositions;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
    this.adjustments = adjustments;
    this.outcomes = outcomes;
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
    ReadingDrifts drifts = referenceChecks.drifts(history);
    List<ReadingLine> lines = new ArrayList<>();
    for (Reading reading : history) {
      ReadingDrift drift = drifts.at(reading);
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
    List<Instruction> instructions =
        adjustments.history(disposition.assemblyId()).stream()
            .filter(i -> i.done() != null && !i.done().at().isAfter(until))
            .toList();
    List<Reading> history = lines.stream().map(ReadingLine::reading).toList();
    return outcomes.of(order, instructions, history).stream()
        .map(work -> new WorkLine(work.instruction(), outcomes(work)))
        .toList();
  }

  private static List<Outcome> outcomes(Work work) {
    List<Instruction.Prediction> predictions = work.instruction().predictions();
    return IntStream.range(0, predictions.size())
        .mapToObj(
            k ->
                new Outcome(
                    predictions.get(k),
                    work.outcomes().isEmpty() ? null : work.outcomes().get(k).achievedErrorDeg()))
        .toList();
  }
}
