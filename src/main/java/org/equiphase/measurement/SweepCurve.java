package org.equiphase.measurement;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;
import org.equiphase.measurement.Reading.Spot;
import org.equiphase.rf.Complex;
import org.equiphase.rf.SpotReading;
import org.equiphase.rf.SweepAnalysis;
import org.equiphase.rf.SweepTrace;
import org.equiphase.rf.WrappedPhase;
import org.jspecify.annotations.Nullable;

/**
 * The sweep of a reading point by point, in the terms of the reading: one way, adapters and end
 * standard taken off, at the order's reference temperature.
 *
 * @param spots the curve at the frequencies of the reading
 * @param agrees whether it passes through the phases of the reading; it does not where bench,
 *     stretcher or cable type were changed since
 */
record SweepCurve(List<Point> points, List<Point> spots, boolean turnsKnown, boolean agrees) {

  private static final int POINTS_DRAWN = 2000;
  private static final int POINTS_LISTED = 25;

  // Half the last digit that pages show.
  private static final double SAME_PHASE_DEG = 0.005;

  /**
   * @param fitDeg phase of the pure delay that fits best
   * @param residualDeg phaseDeg − fitDeg
   * @param vswr of S11 as measured; null where infinite or unknown
   * @param s11 as measured, between the analyzer's planes
   */
  record Point(
      double frequencyHz,
      double phaseDeg,
      double fitDeg,
      double residualDeg,
      double insertionLossDb,
      @Nullable Double vswr,
      Complex s11) {}

  SweepCurve {
    points = List.copyOf(points);
    spots = List.copyOf(spots);
  }

  /**
   * @param analysis of that sweep, with the frequencies of the reading as its spots
   */
  static SweepCurve of(Reading reading, StoredSweep sweep, SweepAnalysis analysis) {
    SweepTrace trace = analysis.trace();
    double[] phaseDeg = trace.phasesDeg();
    double warmingDegPerHz = warmingDegPerHz(reading.spots());
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < phaseDeg.length; i++) {
      StoredSweep.Point measured = sweep.points().get(i);
      points.add(
          point(trace.at(measured.frequencyHz()), phaseDeg[i], warmingDegPerHz, measured.s11()));
    }
    List<Point> spots = new ArrayList<>();
    boolean agrees = true;
    for (int k = 0; k < reading.spots().size(); k++) {
      SpotReading found = analysis.spots().get(k);
      int right =
          Math.max(
              1, firstFrom(sweep.points(), StoredSweep.Point::frequencyHz, found.frequencyHz()));
      StoredSweep.Point before = sweep.points().get(right - 1);
      StoredSweep.Point after = sweep.points().get(right);
      double share =
          (found.frequencyHz() - before.frequencyHz())
              / (after.frequencyHz() - before.frequencyHz());
      Point spot =
          point(
              found,
              phaseDeg[right - 1] + share * (phaseDeg[right] - phaseDeg[right - 1]),
              warmingDegPerHz,
              ReflectionTrace.between(before.s11(), after.s11(), share));
      spots.add(spot);
      agrees &= agrees(reading, reading.spots().get(k), spot, trace.turnsKnown());
    }
    return new SweepCurve(points, spots, trace.turnsKnown(), agrees);
  }

  /** The point farthest from the pure delay. */
  public Point worst() {
    return points.stream()
        .max(Comparator.comparingDouble(point -> Math.abs(point.residualDeg)))
        .orElseThrow();
  }

  /** Points for a table, spread evenly over the sweep, with both its ends. */
  public List<Point> listed() {
    if (points.size() <= POINTS_LISTED) {
      return points;
    }
    List<Point> few = new ArrayList<>();
    for (int i = 0; i < POINTS_LISTED; i++) {
      few.add(points.get((int) Math.round(i * (points.size() - 1.0) / (POINTS_LISTED - 1))));
    }
    return few;
  }

  /**
   * Points for a chart: all where they are few, else of each of many stretches its first point and
   * its lowest and highest values, so that no spike is lost; and the points beside each spot.
   */
  public List<Point> drawn() {
    if (points.size() <= POINTS_DRAWN) {
      return points;
    }
    List<ToDoubleFunction<Point>> extremes =
        List.of(
            Point::residualDeg,
            Point::insertionLossDb,
            point -> point.vswr == null ? Double.POSITIVE_INFINITY : point.vswr);
    TreeSet<Integer> kept = new TreeSet<>(List.of(points.size() - 1));
    for (Point spot : spots) {
      int right = firstFrom(points, Point::frequencyHz, spot.frequencyHz);
      kept.add(right);
      kept.add(Math.max(right - 1, 0));
    }
    int stretches = Math.max(1, (POINTS_DRAWN - kept.size()) / (1 + 2 * extremes.size()));
    for (int s = 0; s < stretches; s++) {
      int from = (int) ((long) points.size() * s / stretches);
      int to = (int) ((long) points.size() * (s + 1) / stretches);
      kept.add(from);
      for (ToDoubleFunction<Point> value : extremes) {
        int lowest = from;
        int highest = from;
        for (int i = from; i < to; i++) {
          double at = value.applyAsDouble(points.get(i));
          lowest = at < value.applyAsDouble(points.get(lowest)) ? i : lowest;
          highest = at > value.applyAsDouble(points.get(highest)) ? i : highest;
        }
        kept.add(lowest);
        kept.add(highest);
      }
    }
    return kept.stream().map(points::get).toList();
  }

  private static Point point(
      SpotReading value, double phaseDeg, double warmingDegPerHz, Complex s11) {
    double atReferenceDeg = phaseDeg + warmingDegPerHz * value.frequencyHz();
    return new Point(
        value.frequencyHz(),
        atReferenceDeg,
        atReferenceDeg - value.residualDeg(),
        value.residualDeg(),
        value.insertionLossDb(),
        value.vswr().isPresent() ? value.vswr().getAsDouble() : null,
        s11);
  }

  /** Warming changes a cable's delay, so what the reading added for it grows with frequency. */
  private static double warmingDegPerHz(List<Spot> spots) {
    double sum = 0;
    double squares = 0;
    for (Spot spot : spots) {
      sum += spot.temperatureCorrectionDeg() * spot.frequencyHz();
      squares += spot.frequencyHz() * spot.frequencyHz();
    }
    return squares == 0 ? 0 : sum / squares;
  }

  private static boolean agrees(Reading reading, Spot kept, Point found, boolean turnsKnown) {
    double differenceDeg = found.phaseDeg - kept.phaseDeg();
    if (reading.phaseModuloDeg() != null || !turnsKnown) {
      int passes = reading.method().passes();
      differenceDeg = WrappedPhase.wrapDeg(passes * differenceDeg) / passes;
    }
    return Math.abs(differenceDeg) <= SAME_PHASE_DEG;
  }

  /** The first point at or above a frequency; the last where there is none. */
  private static <T> int firstFrom(
      List<T> points, ToDoubleFunction<T> frequency, double frequencyHz) {
    int low = 0;
    int high = points.size() - 1;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (frequency.applyAsDouble(points.get(middle)) < frequencyHz) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }
}
