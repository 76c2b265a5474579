package org.equiphase.measurement;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.equiphase.rf.Complex;
import org.equiphase.rf.SmithChart;
import org.equiphase.rf.SmithChart.Arc;
import org.equiphase.rf.SmithChart.Circle;
import org.jspecify.annotations.Nullable;

/**
 * The lines of the reflection chart out to some |Γ|, in units of the drawing: its centre at 0, its
 * rim at {@link #RADIUS}, y downwards.
 *
 * @param extent |Γ| at the rim
 * @param resistances circles of constant normalised resistance
 * @param reactances arcs of constant normalised reactance, as SVG paths
 * @param magnitudes circles of constant |Γ|
 * @param angles spokes of constant angle of Γ, degrees
 */
record ReflectionGrid(
    double extent,
    List<Ring> resistances,
    List<Line> reactances,
    List<Ring> magnitudes,
    List<Line> angles) {

  static final double RADIUS = 100;

  private static final double LABEL_RADIUS = 109;

  /** A circle with the value that it stands for, and where that is written. */
  record Ring(double value, double x, double radius, double labelX, double labelY) {}

  /** A path with the value that it stands for, and where that is written; null where nowhere. */
  record Line(double value, String path, @Nullable Double labelX, @Nullable Double labelY) {}

  /** The whole chart. */
  static ReflectionGrid whole() {
    return of(1, new double[] {0.2, 0.5, 1, 2, 5}, new double[] {0.2, 0.5, 1, 2, 5}, 0.2);
  }

  /** The middle of the chart, for cables that reflect little. */
  static ReflectionGrid middle() {
    return of(
        0.2, new double[] {0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.4}, new double[] {0.1, 0.2, 0.3}, 0.05);
  }

  private static ReflectionGrid of(
      double extent, double[] resistances, double[] reactances, double magnitudeStep) {
    double unit = RADIUS / extent;
    List<Ring> circles = new ArrayList<>();
    for (double r : resistances) {
      Circle circle = SmithChart.resistanceCircle(r);
      double crossing = (circle.center().re() - circle.radius()) * unit;
      circles.add(
          new Ring(r, circle.center().re() * unit, circle.radius() * unit, crossing + 1.5, -2));
    }
    List<Line> arcs = new ArrayList<>();
    for (double x : reactances) {
      arcs.add(arc(x, extent));
      arcs.add(arc(-x, extent));
    }
    List<Ring> rings = new ArrayList<>();
    for (int i = 1; i * magnitudeStep < extent + 1e-9; i++) {
      double at = i * magnitudeStep * unit;
      rings.add(new Ring(i * magnitudeStep, 0, at, 1.5, -at + 8));
    }
    List<Line> spokes = new ArrayList<>();
    for (int degrees = -150; degrees <= 180; degrees += 30) {
      Complex way = Complex.ofPolarDeg(1, degrees);
      spokes.add(
          new Line(
              degrees,
              path("M0 0L%.3f %.3f", way.re() * RADIUS, -way.im() * RADIUS),
              way.re() * LABEL_RADIUS,
              -way.im() * LABEL_RADIUS + 3));
    }
    return new ReflectionGrid(extent, circles, arcs, rings, spokes);
  }

  private static Line arc(double x, double extent) {
    double unit = RADIUS / extent;
    Arc arc = SmithChart.reactanceArc(x);
    double radius = arc.circle().radius() * unit;
    String path =
        path(
            "M%.3f %.3fA%.3f %.3f 0 0 " + (arc.clockwise() ? 1 : 0) + " %.3f %.3f",
            arc.start().re() * unit,
            -arc.start().im() * unit,
            radius,
            radius,
            arc.end().re() * unit,
            -arc.end().im() * unit);
    Complex rim = rim(x, extent);
    return rim == null
        ? new Line(x, path, null, null)
        : new Line(
            x, path, rim.re() / extent * LABEL_RADIUS, -rim.im() / extent * LABEL_RADIUS + 3);
  }

  /**
   * Where the arc of x leaves the circle |Γ| = g on the side of the short; null where it stays
   * outside. Both equations together, |Γ|² = g² and |Γ − (1 + j/x)|² = 1/x², are a straight line:
   * Re Γ + Im Γ/x = (1 + g²)/2.
   */
  private static @Nullable Complex rim(double x, double g) {
    double k = (1 + g * g) / 2;
    double root = g * g * (1 + x * x) - x * x * k * k;
    if (root < 0) {
      return null;
    }
    double re = (x * x * k - Math.sqrt(root)) / (1 + x * x);
    return Complex.of(re, x * (k - re));
  }

  private static String path(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
