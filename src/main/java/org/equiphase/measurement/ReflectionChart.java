package org.equiphase.measurement;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Mismatch;
import org.equiphase.rf.SmithChart;
import org.jspecify.annotations.Nullable;

/**
 * The reflection chart of a reading: Γ as measured between the analyzer's planes.
 *
 * @param referenceOhm impedance in the middle of the chart
 * @param views the whole chart, and before it its middle where the cable reflects little
 * @param marks what is known at each frequency of the reading
 */
record ReflectionChart(double referenceOhm, List<View> views, List<Mark> marks) {

  // A cable of VSWR below 1.5 would be a dot in the whole chart.
  private static final double LITTLE_REFLECTION = 0.2;

  /**
   * One scale of the chart.
   *
   * @param trace Γ over the sweep as an SVG path; empty without one
   */
  record View(ReflectionGrid grid, String trace) {
    public double unit() {
      return ReflectionGrid.RADIUS / grid.extent();
    }
  }

  /**
   * Γ at one frequency.
   *
   * @param magnitude |Γ|, 0 to 1: the radius of the circle of constant VSWR
   * @param gamma null where only its magnitude is known
   */
  record Mark(double frequencyHz, double magnitude, @Nullable Complex gamma) {
    public double wavelengthMm() {
      return Frequency.ofHertz(frequencyHz).wavelength().inMillimetres();
    }

    /** Null where it is infinite. */
    public @Nullable Double vswr() {
      double vswr = Mismatch.vswrOfGamma(magnitude);
      return Double.isInfinite(vswr) ? null : vswr;
    }

    /** dB; null where it is infinite. */
    public @Nullable Double returnLossDb() {
      double lossDb = Mismatch.returnLossDbOfGamma(magnitude);
      return Double.isInfinite(lossDb) ? null : lossDb;
    }

    /** Null where it is infinite or not known. */
    public @Nullable Complex impedanceOhm(double referenceOhm) {
      return gamma == null ? null : impedance(gamma, referenceOhm);
    }
  }

  ReflectionChart {
    views = List.copyOf(views);
    marks = List.copyOf(marks);
  }

  static ReflectionChart of(SweepCurve curve, double referenceOhm) {
    List<Complex> gammas = curve.points().stream().map(SweepCurve.Point::s11).toList();
    List<ReflectionGrid> grids = new ArrayList<>();
    if (gammas.stream().allMatch(gamma -> gamma.abs() <= LITTLE_REFLECTION)) {
      grids.add(ReflectionGrid.middle());
    }
    grids.add(ReflectionGrid.whole());
    return new ReflectionChart(
        referenceOhm,
        grids.stream()
            .map(
                grid ->
                    new View(
                        grid, ReflectionTrace.path(gammas, grid.extent(), ReflectionGrid.RADIUS)))
            .toList(),
        curve.spots().stream().map(spot -> mark(spot.frequencyHz(), spot.s11())).toList());
  }

  /** Of a reading without a sweep: circles of constant VSWR where it has one; no marks if none. */
  static ReflectionChart of(Reading reading, double referenceOhm) {
    List<Mark> marks = new ArrayList<>();
    for (Reading.Spot spot : reading.spots()) {
      Double vswr = spot.vswr();
      if (vswr != null) {
        double magnitude = SmithChart.vswrCircle(vswr).radius();
        marks.add(new Mark(spot.frequencyHz(), magnitude, null));
      }
    }
    List<ReflectionGrid> grids = new ArrayList<>();
    if (marks.stream().allMatch(mark -> mark.magnitude <= LITTLE_REFLECTION)) {
      grids.add(ReflectionGrid.middle());
    }
    grids.add(ReflectionGrid.whole());
    return new ReflectionChart(
        referenceOhm, grids.stream().map(grid -> new View(grid, "")).toList(), marks);
  }

  /** Null where it is infinite. */
  static @Nullable Complex impedance(Complex gamma, double referenceOhm) {
    Complex z = SmithChart.impedanceOf(gamma);
    return z == null ? null : z.times(referenceOhm);
  }

  /** An analyzer shows a little more than all of it where its calibration errs. */
  private static Mark mark(double frequencyHz, Complex gamma) {
    double magnitude = gamma.abs();
    Complex passive = magnitude <= 1 ? gamma : gamma.times(1 / magnitude);
    return new Mark(frequencyHz, Math.min(magnitude, 1), passive);
  }
}
