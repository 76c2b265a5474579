package org.equiphase.process;

import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What pages, files and the API show, by the same filter. */
@Service
@Transactional(readOnly = true)
class ProcessReports {

  private final ControlCharts charts;
  private final VelocityTables velocities;
  private final Catalog catalog;

  ProcessReports(ControlCharts charts, VelocityTables velocities, Catalog catalog) {
    this.charts = charts;
    this.velocities = velocities;
    this.catalog = catalog;
  }

  ControlChart chart(ChartFilter filter) {
    return charts.chart(filter);
  }

  Yield firstPass(ChartFilter filter) {
    return Yield.of(
        charts.newest(filter.as(Characteristic.FIRST_PASS), Yield.MOST + 1), rolledBy(filter));
  }

  static Dimension rolledBy(ChartFilter filter) {
    return Objects.requireNonNullElse(filter.by(), Dimension.WEEK);
  }

  Pareto causes(ChartFilter filter) {
    return Pareto.of(charts.causes(filter.as(Characteristic.CAUSE), Pareto.MOST));
  }

  /** Of the cable type asked for, or each with learned lots. */
  List<LotVelocities> velocities(ChartFilter filter) {
    List<CableType> cables =
        filter.cableType() == null
            ? catalog.cableTypes()
            : List.of(catalog.cableType(filter.cableType()));
    return cables.stream()
        .map(cable -> LotVelocities.of(cable, filter.lot(), velocities))
        .filter(v -> filter.cableType() != null || !v.rows().isEmpty())
        .toList();
  }

  Names names() {
    return Names.of(catalog);
  }
}
