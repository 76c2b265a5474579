package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.equiphase.rf.SmithChart.Arc;
import org.equiphase.rf.SmithChart.Circle;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Circles and points by the formulae of any text on transmission lines: Γ = (z − 1)/(z + 1); r
 * about (r/(r + 1), 0) with radius 1/(r + 1); x about (1, 1/x) with radius 1/|x|.
 */
class SmithChartTest {
  private static final double EXACT = 1e-12;
  private static final Frequency F = Frequency.ofMegahertz(950);

  /**
   * Loads whose Γ is a fraction that can be worked out by hand, e.g. (1 + j − 1)/(1 + j + 1) = j(2
   * − j)/5 and (−0.8 + 0.5j)(1.2 − 0.5j)/1.69.
   */
  @ParameterizedTest
  @CsvSource({
    // r, x, then numerators and denominator of Γ
    "0.2,  0.5, -0.71,  1.00, 1.69",
    "0.2, -0.5, -0.71, -1.00, 1.69",
    "1,    1,    0.2,   0.4,  1",
    "1,   -1,    0.2,  -0.4,  1",
    "0.5,  0.5, -1,     2,    5",
    "2,   -1,    4,    -2,    10",
    "3,    4,   12,     4,    16",
    "0,    1,    0,     1,    1",
    "0,   -1,    0,    -1,    1",
    "0,    2,    3,     4,    5",
    "0,   -0.5, -3,    -4,    5",
  })
  void aLoadLiesWhereItsCirclesCross(double r, double x, double re, double im, double by) {
    Complex byHand = Complex.of(re / by, im / by);

    assertNear(SmithChart.gammaOf(Complex.of(r, x)), byHand);
    assertNear(impedance(byHand), Complex.of(r, x));
    Complex crossing =
        otherThanOpen(
            crossings(SmithChart.resistanceCircle(r), SmithChart.reactanceArc(x).circle()));
    assertNear(crossing, byHand);
  }

  /** Loads without reactance: the circle of r crosses the real axis at 1 and at the load. */
  @ParameterizedTest
  @CsvSource({
    "0, -1",
    "0.2, -0.6666666666666666",
    "0.5, -0.3333333333333333",
    "1, 0",
    "2, 0.3333333333333333",
    "5, 0.6666666666666666",
    "49, 0.96"
  })
  void aResistiveLoadLiesOnTheRealAxis(double r, double gamma) {
    Circle circle = SmithChart.resistanceCircle(r);

    assertNear(SmithChart.gammaOf(Complex.of(r, 0)), Complex.of(gamma, 0));
    assertThat(circle.center().re() - circle.radius()).isCloseTo(gamma, within(EXACT));
    assertThat(circle.center().re() + circle.radius()).isCloseTo(1, within(EXACT));
    assertThat(circle.center().im()).isZero();
  }

  @Test
  void shortOpenAndMatchAreTheEndsAndTheMiddle() {
    assertNear(SmithChart.gammaOf(Complex.ZERO), Complex.of(-1, 0));
    assertNear(SmithChart.gammaOf(Complex.ONE), Complex.ZERO);
    assertThat(SmithChart.impedanceOf(Complex.ONE)).isNull();
    assertNear(SmithChart.gammaOf(Complex.of(1e15, 0)), Complex.ONE);
    assertNear(SmithChart.gammaOf(Complex.of(0, -1e15)), Complex.ONE);
    assertThat(SmithChart.resistanceCircle(0)).isEqualTo(new Circle(Complex.ZERO, 1));
  }

  /** Ends of the arcs: ((x² − 1)/(x² + 1), 2x/(x² + 1)), for x = 2 at 3/5 and 4/5. */
  @ParameterizedTest
  @CsvSource({
    "0.5, -0.6, 0.8",
    "1, 0, 1",
    "2, 0.6, 0.8",
    "-2, 0.6, -0.8",
    "-0.5, -0.6, -0.8",
    "3, 0.8, 0.6",
    "-1, 0, -1"
  })
  void anArcOfReactanceEndsOnTheRim(double x, double re, double im) {
    Arc arc = SmithChart.reactanceArc(x);

    assertThat(arc.start()).isEqualTo(Complex.ONE);
    assertNear(arc.end(), Complex.of(re, im));
    assertThat(arc.clockwise()).isEqualTo(x > 0);
    Complex crossing = otherThanOpen(crossings(arc.circle(), new Circle(Complex.ZERO, 1)));
    assertNear(crossing, arc.end());
  }

  /** 100 Ω through a quarter wave of 50 Ω is Z0²/ZL = 25 Ω, through half a wave 100 Ω again. */
  @Test
  void aQuarterWaveTurnsHalfRound() {
    Length quarter = Length.ofMetres(F.wavelength().metres() / 4);
    Complex load = SmithChart.gammaOf(Complex.of(2, 0));

    Complex seen = SmithChart.turned(load, F, quarter);

    assertNear(seen, Complex.of(-1 / 3.0, 0));
    assertThat(50 * impedance(seen).re()).isCloseTo(25, within(1e-9));
    assertThat(SmithChart.phaseChangeDeg(F, quarter)).isCloseTo(-90, within(1e-9));
    assertNear(SmithChart.turned(seen, F, quarter), load);
  }

  /** An eighth of a wave turns an open end to −j, a capacitance: clockwise from the right. */
  @Test
  void addedLineTurnsClockwise() {
    Length eighth = Length.ofMetres(F.wavelength().metres() / 8);

    assertNear(SmithChart.turned(Complex.ONE, F, eighth), Complex.of(0, -1));
    assertNear(
        SmithChart.turned(Complex.ONE, F, Length.ofMetres(-eighth.metres())), Complex.of(0, 1));
  }

  /**
   * The formula of the line that {@link Reflection} has from simulation, met from the other side.
   */
  @Test
  void aStretcherTurnsAsAnyOtherLineDoes() {
    LineStretcher folded =
        LineStretcher.of(LineStretcher.Geometry.FOLDED, LineStretcher.USUAL_AIR_INDEX, 0, 140, 0.5);
    Length added = Length.ofMillimetres(folded.addedElectricalLengthMm(70, 91.5));
    Reflection seen =
        Reflection.throughLine(F, 50, Complex.of(40, 70), added, VelocityFactor.VACUUM, 0);

    Complex turned = SmithChart.turned(Reflection.gammaOfLoad(Complex.of(40, 70), 50), F, added);

    assertNear(turned, seen.gamma());
    assertThat(2 * SmithChart.phaseChangeDeg(F, added)).isCloseTo(seen.rotationDeg(), within(1e-9));
    assertThat(SmithChart.vswrCircle(seen.vswr().orElseThrow()).distance(turned))
        .isCloseTo(0, within(1e-9));
  }

  /** |Γ| = (s − 1)/(s + 1). */
  @ParameterizedTest
  @CsvSource({"1, 0", "1.5, 0.2", "2, 0.3333333333333333", "3, 0.5", "Infinity, 1"})
  void aCircleOfConstantVswr(double vswr, double radius) {
    Circle circle = SmithChart.vswrCircle(vswr);

    assertThat(circle.radius()).isCloseTo(radius, within(EXACT));
    assertThat(circle.center()).isEqualTo(Complex.ZERO);
  }

  @Property(tries = 1000, seed = "1")
  void anyLoadLiesOnBothItsCircles(
      @ForAll @DoubleRange(min = 0, max = 200) double r,
      @ForAll @DoubleRange(min = 0.01, max = 200) double reactance,
      @ForAll boolean inductive) {
    double x = inductive ? reactance : -reactance;
    Complex gamma = SmithChart.gammaOf(Complex.of(r, x));
    Circle ofX = SmithChart.reactanceArc(x).circle();

    assertThat(gamma.abs()).isLessThanOrEqualTo(1 + EXACT);
    assertThat(SmithChart.resistanceCircle(r).distance(gamma)).isCloseTo(0, within(EXACT));
    assertThat(ofX.distance(gamma)).isCloseTo(0, within(EXACT * (1 + ofX.radius())));
    Complex back = impedance(gamma);
    double slack = 1e-12 * (1 + (r * r + x * x));
    assertThat(back.re()).isCloseTo(r, within(slack));
    assertThat(back.im()).isCloseTo(x, within(slack));
  }

  /** Along the arc, the way round that it names, all points are of passive loads with that x. */
  @Property(tries = 500, seed = "2")
  void anArcStaysWithinTheChart(
      @ForAll @DoubleRange(min = 0.05, max = 20) double reactance,
      @ForAll boolean inductive,
      @ForAll @DoubleRange(min = 0.01, max = 0.99) double share) {
    double x = inductive ? reactance : -reactance;
    Arc arc = SmithChart.reactanceArc(x);
    Complex center = arc.circle().center();
    double fromDeg = arc.start().minus(center).argumentDeg();
    double toDeg = arc.end().minus(center).argumentDeg();
    double wayDeg = WrappedPhase.wrapDeg(toDeg - fromDeg);
    assertThat(wayDeg < 0).isEqualTo(arc.clockwise());

    Complex on = center.plus(Complex.ofPolarDeg(arc.circle().radius(), fromDeg + share * wayDeg));

    assertThat(on.abs()).isLessThan(1);
    Complex z = impedance(on);
    assertThat(z.re()).isPositive();
    // Near the open end, z is large and the rounding of Γ with it.
    assertThat(z.im()).isCloseTo(x, within(1e-9 * (1 + z.re() * z.re())));
  }

  @Property(tries = 500, seed = "3")
  void lineTurnsOnTheCircleOfConstantVswr(
      @ForAll @DoubleRange(min = 0, max = 1) double magnitude,
      @ForAll @DoubleRange(min = -180, max = 180) double angleDeg,
      @ForAll @DoubleRange(min = -600, max = 600) double addedMm) {
    Complex gamma = Complex.ofPolarDeg(magnitude, angleDeg);
    Complex turned = SmithChart.turned(gamma, F, Length.ofMillimetres(addedMm));

    assertThat(turned.abs()).isCloseTo(magnitude, within(EXACT));
    // 4π·f·L/c by hand: λ at 950 MHz is 315.571008 mm.
    Complex expected = Complex.ofPolarDeg(magnitude, angleDeg - 720 * addedMm / 315.57100842);
    assertThat(turned.minus(expected).abs()).isLessThan(1e-9);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.1, Double.NaN, Double.POSITIVE_INFINITY})
  void refusesResistancesThatAreNone(double r) {
    assertThat(refusal(() -> SmithChart.resistanceCircle(r)).field()).isEqualTo("r");
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -0.0, Double.MIN_VALUE, Double.NaN, Double.NEGATIVE_INFINITY})
  void refusesReactancesWithoutAnArc(double x) {
    assertThat(refusal(() -> SmithChart.reactanceArc(x)).field()).isEqualTo("x");
  }

  @Test
  void refusesWhatIsNotPassive() {
    assertThat(refusal(() -> SmithChart.gammaOf(Complex.of(-1, 0))).field())
        .isEqualTo("loadOhm.re");
    assertThat(refusal(() -> SmithChart.impedanceOf(Complex.of(0.8, 0.8))).field())
        .isEqualTo("gamma");
    assertThat(refusal(() -> SmithChart.turned(Complex.of(2, 0), F, Length.ofMetres(0))).field())
        .isEqualTo("gamma");
    assertThat(refusal(() -> SmithChart.vswrCircle(0.9)).field()).isEqualTo("vswr");
  }

  /** Where two circles cross, from their centres and radii alone. */
  private static List<Complex> crossings(Circle a, Circle b) {
    Complex way = b.center().minus(a.center());
    double distance = way.abs();
    double along =
        (distance * distance + a.radius() * a.radius() - b.radius() * b.radius()) / (2 * distance);
    double aside = Math.sqrt(a.radius() * a.radius() - along * along);
    Complex unit = way.times(1 / distance);
    Complex foot = a.center().plus(unit.times(along));
    Complex across = unit.times(Complex.of(0, aside));
    return List.of(foot.plus(across), foot.minus(across));
  }

  /** All circles pass through Γ = 1; the load is the other crossing. */
  private static Complex otherThanOpen(List<Complex> crossings) {
    return crossings.stream()
        .max(Comparator.comparingDouble(point -> point.minus(Complex.ONE).abs()))
        .orElseThrow();
  }

  private static Complex impedance(Complex gamma) {
    return Objects.requireNonNull(SmithChart.impedanceOf(gamma));
  }

  private static void assertNear(Complex actual, Complex expected) {
    assertThat(actual.re()).isCloseTo(expected.re(), within(EXACT));
    assertThat(actual.im()).isCloseTo(expected.im(), within(EXACT));
  }

  private static InvalidQuantityException refusal(ThrowingCallable call) {
    return catchThrowableOfType(InvalidQuantityException.class, call);
  }
}
