package org.equiphase.measurement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.measurement.SweepCurve.Point;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Method;
import org.equiphase.rf.SweepAnalyzer;
import org.equiphase.rf.SweepSettings;
import org.equiphase.rf.VelocityFactor;
import org.junit.jupiter.api.Test;

/** Curves of made-up sweeps: a pure delay of 4 ns with noise from a seed. */
class SweepCurveTest {

  private static final double DELAY_S = 4e-9;

  @Test
  void aLongSweepIsThinnedOutAndKeepsItsExtremes() {
    StoredSweep sweep = sweep(20_001, Method.TRANSMISSION, 1.0);
    List<Point> all = curve(sweep, Method.TRANSMISSION, 0).points();
    List<Point> drawn = curve(sweep, Method.TRANSMISSION, 0).drawn();

    assertThat(all).hasSize(20_001);
    assertThat(drawn).hasSizeBetween(1000, 2000).isSubsetOf(all);
    assertThat(drawn.get(0)).isEqualTo(all.get(0));
    assertThat(drawn.get(drawn.size() - 1)).isEqualTo(all.get(20_000));
    for (ToDoubleFunction<Point> value :
        List.<ToDoubleFunction<Point>>of(
            Point::residualDeg, Point::insertionLossDb, SweepCurveTest::vswr)) {
      assertThat(drawn.stream().mapToDouble(value).max())
          .isEqualTo(all.stream().mapToDouble(value).max());
      assertThat(drawn.stream().mapToDouble(value).min())
          .isEqualTo(all.stream().mapToDouble(value).min());
    }
    assertThat(drawn)
        .isSortedAccordingTo((a, b) -> Double.compare(a.frequencyHz(), b.frequencyHz()));
  }

  @Test
  void theSpotLiesOnTheThinnedCurve() {
    SweepCurve curve = curve(sweep(20_001, Method.TRANSMISSION, 1.0), Method.TRANSMISSION, 0);
    Point spot = curve.spots().get(0);
    List<Point> drawn = curve.drawn();
    int right = 1;
    while (drawn.get(right).frequencyHz() < spot.frequencyHz()) {
      right++;
    }
    Point before = drawn.get(right - 1);
    Point after = drawn.get(right);
    double share =
        (spot.frequencyHz() - before.frequencyHz()) / (after.frequencyHz() - before.frequencyHz());
    assertThat(before.phaseDeg() + share * (after.phaseDeg() - before.phaseDeg()))
        .isCloseTo(spot.phaseDeg(), within(1e-9));
  }

  @Test
  void aShortSweepIsDrawnWhole() {
    SweepCurve curve = curve(sweep(101, Method.TRANSMISSION, 1.0), Method.TRANSMISSION, 0);

    assertThat(curve.drawn()).isEqualTo(curve.points());
    assertThat(curve.listed()).hasSize(25).startsWith(curve.points().get(0));
    assertThat(curve.listed().get(24)).isEqualTo(curve.points().get(100));
  }

  /** A reading that stands at another phase than the curve is noticed, whole turns set aside. */
  @Test
  void aCurveThatMissesItsReadingSaysSo() {
    StoredSweep sweep = sweep(101, Method.TRANSMISSION, 1.0);

    assertThat(curve(sweep, Method.TRANSMISSION, 0).agrees()).isTrue();
    assertThat(curve(sweep, Method.TRANSMISSION, 0.02).agrees()).isFalse();
    assertThat(curve(sweep, Method.TRANSMISSION, 360).agrees()).isFalse();
  }

  /** Γ of a lossless line with an open end stays on the rim, also between its points. */
  @Test
  void theTraceOfAnOpenLineRunsRoundTheRim() {
    SweepCurve curve = curve(sweep(101, Method.REFLECTION_OPEN, 1.0), Method.REFLECTION_OPEN, 0);
    String path = ReflectionTrace.path(curve.points().stream().map(Point::s11).toList(), 1, 100);

    Matcher points = Pattern.compile("[ML](-?[0-9.]+) (-?[0-9.]+)").matcher(path);
    List<Complex> drawn = new ArrayList<>();
    while (points.find()) {
      drawn.add(
          Complex.of(Double.parseDouble(points.group(1)), -Double.parseDouble(points.group(2))));
    }
    // 57.6° from point to point, 28.8 turns... in steps of at most a tenth of the radius.
    assertThat(drawn.size()).isGreaterThan(900);
    for (int i = 1; i < drawn.size(); i++) {
      assertThat(drawn.get(i).abs()).isCloseTo(100, within(0.01));
      assertThat(drawn.get(i).minus(drawn.get(i - 1)).abs()).isLessThan(11);
      // Clockwise, as frequency adds electrical length.
      Complex turn = drawn.get(i).dividedBy(drawn.get(i - 1));
      assertThat(turn.argumentDeg()).isNegative();
    }
  }

  @Test
  void theStoredFormKeepsTheReferenceAndReadsTheFormerForm() {
    StoredSweep sweep = sweep(3, Method.TRANSMISSION, 0.5);
    StoredSweep former = new StoredSweep(null, sweep.points());

    assertThat(StoredSweep.fromBytes(sweep.toBytes())).isEqualTo(sweep);
    assertThat(StoredSweep.fromBytes(former.toBytes())).isEqualTo(former);
    assertThat(former.toBytes()[0]).isEqualTo((byte) 1);
    assertThat(sweep.toRf(50).referenceOhm()).isEqualTo(75);
    assertThat(former.toRf(50).referenceOhm()).isEqualTo(50);
  }

  private static double vswr(Point point) {
    Double vswr = point.vswr();
    return vswr == null ? Double.POSITIVE_INFINITY : vswr;
  }

  /** From 1 GHz to 1 GHz + 20 MHz per point, or 2 GHz where there are many. */
  private static StoredSweep sweep(int points, Method method, double magnitude) {
    Random random = new Random(1);
    double stepHz = points > 1000 ? 1e9 / (points - 1) : 20e6;
    List<StoredSweep.Point> all = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double hertz = 1e9 + i * stepHz;
      double noiseDeg = method.isReflection() ? 0 : random.nextGaussian();
      Complex measured =
          Complex.ofPolarDeg(
              method.isReflection() ? magnitude : 0.8 + 0.01 * random.nextGaussian(),
              -360 * hertz * DELAY_S * method.passes() + noiseDeg);
      Complex s11 =
          method.isReflection()
              ? measured
              : Complex.ofPolarDeg(0.05 + 0.01 * random.nextDouble(), random.nextInt(360));
      all.add(new StoredSweep.Point(hertz, measured, s11));
    }
    return new StoredSweep(75.0, all);
  }

  private static SweepCurve curve(StoredSweep sweep, Method method, double missDeg) {
    double spotHz = 1.2345e9;
    var analysis =
        SweepAnalyzer.analyse(
            sweep.toRf(50),
            SweepSettings.of(method, VelocityFactor.of(0.7)).withSpotsHz(List.of(spotHz)));
    double phaseDeg = analysis.spots().get(0).totalPhaseDeg().orElseThrow();
    Reading reading =
        new Reading(
            1,
            1,
            1,
            method,
            Reading.Source.FILE,
            23,
            Instant.EPOCH,
            Instant.EPOCH,
            "tests",
            null,
            null,
            null,
            null,
            null,
            null,
            0,
            List.of(
                new Reading.Spot(
                    spotHz,
                    0,
                    0,
                    0,
                    phaseDeg + missDeg,
                    new SpotUncertainty(0, 0, 0, 0),
                    null,
                    null)),
            null);
    return SweepCurve.of(reading, sweep, analysis);
  }
}
