package org.equiphase.measurement;

import java.util.List;
import java.util.Optional;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.measurement.Reading.Spot;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.SweepAnalysis;
import org.equiphase.web.InvalidInputException;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Draws readings: the sweep by the same calculation that recorded it, and the reflection chart. */
@Component
class ReadingCharts {

  private final Readings readings;
  private final WorkOrders workOrders;
  private final Catalog catalog;

  ReadingCharts(Readings readings, WorkOrders workOrders, Catalog catalog) {
    this.readings = readings;
    this.workOrders = workOrders;
    this.catalog = catalog;
  }

  /**
   * A reading with what can be drawn of it.
   *
   * @param curve null without a sweep, and where the sweep can't be read any more
   * @param refusal why the sweep can't be read any more; null where it can, or there is none
   * @param reflection null where no reflection is known
   * @param stretcher null where none is fitted, or no reflection is known
   */
  record Charts(
      Reading reading,
      Assembly assembly,
      WorkOrder order,
      Bench bench,
      @Nullable SweepCurve curve,
      @Nullable String refusal,
      @Nullable ReflectionChart reflection,
      @Nullable StretcherRehearsal stretcher) {}

  Charts charts(long readingId) {
    Reading reading = readings.reading(readingId);
    Assembly assembly = workOrders.assembly(reading.assemblyId());
    WorkOrder order = workOrders.order(assembly.workOrderId());
    Bench bench = catalog.bench(reading.benchId());
    CableType cable = catalog.cableType(order.specification().cableTypeId());
    Optional<StoredSweep> sweep = readings.sweep(readingId);
    SweepCurve curve = null;
    String refusal = null;
    ReflectionChart reflection = null;
    if (sweep.isPresent()) {
      try {
        curve = curve(reading, assembly, bench, sweep.get(), cable);
        reflection = ReflectionChart.of(curve, referenceOhm(sweep.get(), cable));
      } catch (InvalidInputException | InvalidQuantityException changedSince) {
        refusal = changedSince.getMessage();
      }
    } else if (reading.spots().stream().anyMatch(spot -> spot.vswr() != null)) {
      reflection = ReflectionChart.of(reading, cable.impedanceOhm());
    }
    return new Charts(
        reading,
        assembly,
        order,
        bench,
        curve,
        refusal,
        reflection,
        reflection == null
            ? null
            : rehearsal(order.specification(), assembly, reading, reflection));
  }

  /** The sweep of a reading; empty without one. */
  Optional<SweepCurve> curve(long readingId) {
    Reading reading = readings.reading(readingId);
    Assembly assembly = workOrders.assembly(reading.assemblyId());
    WorkOrder order = workOrders.order(assembly.workOrderId());
    return readings
        .sweep(readingId)
        .map(
            sweep ->
                curve(
                    reading,
                    assembly,
                    catalog.bench(reading.benchId()),
                    sweep,
                    catalog.cableType(order.specification().cableTypeId())));
  }

  private SweepCurve curve(
      Reading reading, Assembly assembly, Bench bench, StoredSweep sweep, CableType cable) {
    List<Double> spotHz = reading.spots().stream().map(Spot::frequencyHz).toList();
    SweepAnalysis analysis =
        readings
            .reducer(assembly, bench)
            .analyse(reading.method(), sweep.toRf(cable.impedanceOhm()), spotHz);
    return SweepCurve.of(reading, sweep, analysis);
  }

  private static double referenceOhm(StoredSweep sweep, CableType cable) {
    Double kept = sweep.referenceOhm();
    return kept == null ? cable.impedanceOhm() : kept;
  }

  private @Nullable StretcherRehearsal rehearsal(
      Specification specification, Assembly assembly, Reading reading, ReflectionChart reflection) {
    Long stretcherId = assembly.lineStretcherId(specification);
    Double presentMm = assembly.stretcherSettingMm();
    if (stretcherId == null || presentMm == null) {
      return null;
    }
    LineStretcher stretcher = catalog.lineStretcher(stretcherId);
    boolean last =
        readings.latest(assembly.id()).filter(latest -> latest.id() == reading.id()).isPresent();
    return StretcherRehearsal.of(
        stretcher.name(),
        stretcher.toRf(),
        presentMm,
        reflection,
        !last || assembly.state() == AssemblyState.ADJUSTED);
  }
}
