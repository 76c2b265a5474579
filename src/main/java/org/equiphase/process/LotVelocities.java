package org.equiphase.process;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.CableType;
import org.equiphase.process.VelocityTables.LotValue;
import org.jspecify.annotations.Nullable;

/**
 * Velocity factors of a cable type's lots, in the order of their last cuts, against what the
 * catalog says; or one lot's, step by step.
 *
 * @param lot null for all lots
 * @param low and high: the catalog's value less and plus its tolerance
 */
public record LotVelocities(
    CableType cableType, @Nullable String lot, double low, double high, List<Row> rows) {

  private static final int MOST_LOTS = 40;
  private static final int MOST_STEPS = 2000;

  public LotVelocities {
    rows = List.copyOf(rows);
  }

  /**
   * A lot after a number of cuts.
   *
   * @param expanded uncertainty U = 2·u
   * @param within whether the value lies within the catalog's tolerance
   * @param x and y, yLow, yHigh: where it stands on a field 600 wide and 200 high
   */
  public record Row(
      String lot,
      Instant at,
      double velocityFactor,
      double standardUncertainty,
      double expanded,
      int cuts,
      boolean within,
      double x,
      double y,
      double yLow,
      double yHigh) {}

  static LotVelocities of(CableType cable, @Nullable String lot, VelocityTables tables) {
    List<LotValue> values = new ArrayList<>();
    if (lot != null) {
      values.addAll(tables.history(cable.id(), lot, MOST_LOTS));
    } else {
      Map<String, LotValue> newest = new LinkedHashMap<>();
      tables.newest(cable.id(), MOST_STEPS).forEach(v -> newest.putIfAbsent(v.lot(), v));
      newest.values().stream().limit(MOST_LOTS).forEach(values::add);
    }
    Collections.reverse(values);
    double low = cable.velocityFactor() - cable.velocityFactorTolerance();
    double high = cable.velocityFactor() + cable.velocityFactorTolerance();
    double least = low;
    double greatest = high;
    for (LotValue v : values) {
      least = Math.min(least, v.velocityFactor() - 2 * v.standardUncertainty());
      greatest = Math.max(greatest, v.velocityFactor() + 2 * v.standardUncertainty());
    }
    Scale scale = new Scale(least, greatest == least ? least + 1 : greatest);
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < values.size(); i++) {
      rows.add(row(values.get(i), (i + 0.5) * 600 / values.size(), low, high, scale));
    }
    return new LotVelocities(cable, lot, low, high, rows);
  }

  private record Scale(double least, double greatest) {
    double y(double value) {
      return 190 - 180 * (value - least) / (greatest - least);
    }
  }

  private static Row row(LotValue v, double x, double low, double high, Scale scale) {
    double expanded = 2 * v.standardUncertainty();
    return new Row(
        v.lot(),
        v.at(),
        v.velocityFactor(),
        v.standardUncertainty(),
        expanded,
        v.cuts(),
        v.velocityFactor() >= low && v.velocityFactor() <= high,
        x,
        scale.y(v.velocityFactor()),
        scale.y(v.velocityFactor() - expanded),
        scale.y(v.velocityFactor() + expanded));
  }

  /** Where the catalog's limits lie on the field. */
  public double lowY() {
    return scale().y(low);
  }

  public double highY() {
    return scale().y(high);
  }

  private Scale scale() {
    double least = low;
    double greatest = high;
    for (Row row : rows) {
      least = Math.min(least, row.velocityFactor - row.expanded);
      greatest = Math.max(greatest, row.velocityFactor + row.expanded);
    }
    return new Scale(least, greatest == least ? least + 1 : greatest);
  }
}
