package org.equiphase.process;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.NominalErrors;
import org.equiphase.adjustment.PhaseChanges;
import org.equiphase.adjustment.PhaseSum;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.process.FactTables.Start;
import org.equiphase.process.VelocityTables.LotValue;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What an assembly's readings and cuts add to the charts. */
@Component
class AssemblyFacts {

  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final ReferenceChecks referenceChecks;
  private final Adjustments adjustments;
  private final NominalErrors nominalErrors;
  private final VelocityTables velocities;

  AssemblyFacts(
      WorkOrders workOrders,
      Catalog catalog,
      ReferenceChecks referenceChecks,
      Adjustments adjustments,
      NominalErrors nominalErrors,
      VelocityTables velocities) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.referenceChecks = referenceChecks;
    this.adjustments = adjustments;
    this.nominalErrors = nominalErrors;
    this.velocities = velocities;
  }

  /** What all facts of an assembly have in common. */
  record Subject(Assembly assembly, WorkOrder order, String lot) {

    static Subject of(Assembly assembly, WorkOrder order) {
      return new Subject(assembly, order, Adjustments.lot(order, assembly));
    }

    long cableTypeId() {
      return order.specification().cableTypeId();
    }

    /** A value that follows from a reading. */
    ProcessValue value(
        Series series,
        Reading reading,
        @Nullable Instruction cut,
        @Nullable Cause cause,
        double value,
        @Nullable Double lower,
        @Nullable Double upper) {
      Instruction.Done done = cut == null ? null : cut.done();
      return new ProcessValue(
          0,
          series,
          reading.takenAt(),
          assembly.id(),
          assembly.serial(),
          reading.id(),
          cut == null ? null : cut.id(),
          cableTypeId(),
          reading.benchId(),
          done == null ? reading.recordedBy() : done.by(),
          lot,
          order.number(),
          cause,
          value,
          lower,
          upper);
    }
  }

  Subject subject(Assembly assembly) {
    return Subject.of(assembly, workOrders.order(assembly.workOrderId()));
  }

  /**
   * The values of the charted characteristics.
   *
   * @param readings valid ones, in the order they were recorded
   * @param start where it stood when it was first measured
   */
  List<ProcessValue> of(Subject subject, List<Reading> readings, Start start) {
    List<ProcessValue> values = new ArrayList<>();
    if (readings.isEmpty()) {
      return values;
    }
    List<Instruction> done =
        adjustments.history(subject.assembly.id()).stream().filter(i -> i.done() != null).toList();
    ReadingDrifts drifts = referenceChecks.drifts(readings);
    firstErrors(subject, readings, start, done, drifts, values);
    losses(subject, readings.get(0), values);
    for (Instruction cut : done) {
      cutError(subject, cut, done, readings, drifts).ifPresent(values::add);
    }
    return values;
  }

  private void firstErrors(
      Subject subject,
      List<Reading> readings,
      Start start,
      List<Instruction> done,
      ReadingDrifts drifts,
      List<ProcessValue> values) {
    for (Reading reading : readings) {
      if (done.stream().anyMatch(i -> !i.doneAfter(reading))) {
        return;
      }
      List<PhaseSum> sums =
          nominalErrors.of(
              subject.order.specification(), start.position(), reading, drifts.at(reading));
      for (int k = 0; k < sums.size(); k++) {
        double toleranceDeg = subject.order.specification().frequencies().get(k).toleranceDeg();
        values.add(
            subject.value(
                Series.of(Characteristic.FIRST_ERROR, sums.get(k).frequencyHz()),
                reading,
                null,
                null,
                sums.get(k).errorDeg(),
                -toleranceDeg,
                toleranceDeg));
      }
      if (!sums.isEmpty()) {
        return;
      }
    }
  }

  private static void losses(Subject subject, Reading reading, List<ProcessValue> values) {
    for (int k = 0; k < reading.spots().size(); k++) {
      Reading.Spot spot = reading.spots().get(k);
      FrequencySpecification f = subject.order.specification().frequencies().get(k);
      if (spot.insertionLossDb() != null) {
        values.add(
            subject.value(
                Series.of(Characteristic.LOSS, spot.frequencyHz()),
                reading,
                null,
                null,
                spot.insertionLossDb(),
                null,
                f.insertionLossLimitDb()));
      }
    }
  }

  /** Only a cut that stands alone between two valid readings can be told by them. */
  private Optional<ProcessValue> cutError(
      Subject subject,
      Instruction cut,
      List<Instruction> done,
      List<Reading> readings,
      ReadingDrifts drifts) {
    Double signedOffMm = Objects.requireNonNull(cut.done()).trimMm();
    Optional<Reading> before = readings.stream().filter(r -> r.id() == cut.readingId()).findFirst();
    Optional<Reading> after = cut.firstAfter(readings);
    if (signedOffMm == null || before.isEmpty() || after.isEmpty()) {
      return Optional.empty();
    }
    boolean alone =
        done.stream()
            .noneMatch(
                other ->
                    other.id() != cut.id()
                        && other.doneAfter(before.get())
                        && !other.doneAfter(after.get()));
    boolean told = drifts.at(before.get()).usable() && drifts.at(after.get()).usable();
    return alone && told
        ? Optional.of(
            subject.value(
                Series.of(Characteristic.CUT_ERROR, 0),
                after.get(),
                cut,
                null,
                cutErrorMm(subject, before.get(), after.get(), drifts, signedOffMm),
                null,
                null))
        : Optional.empty();
  }

  private double cutErrorMm(
      Subject subject, Reading before, Reading after, ReadingDrifts drifts, double signedOffMm) {
    VelocityFactor velocity = velocityFactor(subject, after);
    return CutLength.errorMm(
        PhaseChanges.between(before, after, drifts, velocity, signedOffMm), velocity, signedOffMm);
  }

  /** As the lot's earlier cuts have taught, so that no cut is measured by itself. */
  private VelocityFactor velocityFactor(Subject subject, Reading after) {
    CableType cable = catalog.cableType(subject.cableTypeId());
    return VelocityFactor.of(
        velocities
            .lastBefore(cable.id(), subject.lot, after.takenAt())
            .map(LotValue::velocityFactor)
            .orElse(cable.velocityFactor()));
  }
}
