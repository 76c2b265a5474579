package org.equiphase.adjustment;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** How far assemblies were from their nominal phase when they were first measured. */
@Component
public class FirstErrors {

  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Readings readings;

  FirstErrors(WorkOrders workOrders, Catalog catalog, Readings readings) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
  }

  /** At the first frequency of its order; the bench's drift and a position's offset left in. */
  public record FirstError(double frequencyHz, double errorDeg) {}

  /** By assembly; those without a valid reading are left out. */
  @Transactional(readOnly = true)
  public Map<Long, FirstError> of(List<Assembly> assemblies) {
    Map<Long, Adjuster> adjusters = new HashMap<>();
    Map<Long, List<Reading>> valid = readings.valid(assemblies.stream().map(Assembly::id).toList());
    Map<Long, FirstError> errors = new HashMap<>();
    for (Assembly assembly : assemblies) {
      List<Reading> read = valid.get(assembly.id());
      if (read != null) {
        Adjuster adjuster = adjusters.computeIfAbsent(assembly.workOrderId(), this::adjuster);
        Reading.Spot spot = read.get(0).spots().get(0);
        double nominalDeg = adjuster.nominalPhaseDeg(adjuster.specification().frequencies().get(0));
        errors.put(
            assembly.id(),
            new FirstError(spot.frequencyHz(), adjuster.wrap(spot.phaseDeg() - nominalDeg)));
      }
    }
    return errors;
  }

  private Adjuster adjuster(long orderId) {
    return Adjuster.ofCatalog(workOrders.order(orderId).specification(), catalog);
  }
}
