package org.equiphase.measurement;

import java.util.List;
import java.util.Locale;
import org.equiphase.rf.Complex;
import org.equiphase.rf.WrappedPhase;

/** The way of Γ over a sweep, as an SVG path. */
final class ReflectionTrace {

  // Finer than a screen shows, in radii of the drawing.
  private static final double LEAST_STEP = 0.003;

  // Longer steps are drawn round the centre: a chord would show less reflection than there was.
  private static final double LONGEST_CHORD = 0.1;

  private static final int MOST_STEPS = 4000;

  private ReflectionTrace() {}

  /**
   * The path in units of the drawing, y downwards.
   *
   * @param extent radius of the drawing in the plane of Γ
   * @param radius its radius in units
   */
  static String path(List<Complex> gammas, double extent, double radius) {
    double unit = radius / extent;
    double wholeWay = 0;
    for (int i = 1; i < gammas.size(); i++) {
      wholeWay += gammas.get(i).minus(gammas.get(i - 1)).abs();
    }
    double leastStep = Math.max(LEAST_STEP * extent, wholeWay / MOST_STEPS);
    StringBuilder path = new StringBuilder();
    Complex last = null;
    for (int i = 0; i < gammas.size(); i++) {
      Complex gamma = gammas.get(i);
      if (last == null) {
        append(path, 'M', gamma, unit);
        last = gamma;
        continue;
      }
      double step = gamma.minus(last).abs();
      if (step < leastStep && i < gammas.size() - 1) {
        continue;
      }
      int pieces = (int) Math.ceil(step / (LONGEST_CHORD * extent));
      for (int piece = 1; piece < pieces; piece++) {
        append(path, 'L', between(last, gamma, (double) piece / pieces), unit);
      }
      append(path, 'L', gamma, unit);
      last = gamma;
    }
    return path.toString();
  }

  /** Between two points, magnitude and angle each in proportion, the short way round. */
  static Complex between(Complex from, Complex to, double share) {
    double turnDeg = WrappedPhase.wrapDeg(to.argumentDeg() - from.argumentDeg());
    return Complex.ofPolarDeg(
        from.abs() + share * (to.abs() - from.abs()), from.argumentDeg() + share * turnDeg);
  }

  private static void append(StringBuilder path, char command, Complex gamma, double unit) {
    path.append(command)
        .append(String.format(Locale.ROOT, "%.2f %.2f", gamma.re() * unit, -gamma.im() * unit));
  }
}
