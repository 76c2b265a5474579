package org.equiphase.rf;

import org.jspecify.annotations.Nullable;

/**
 * Geometry of the reflection chart: the plane of the reflection coefficient Γ, with the circles on
 * which the normalised impedance z = r + jx of a passive load has one resistance or one reactance.
 * The chart is the unit disc; lengths are in its radius, impedances in the reference impedance.
 *
 * <p>Source: z = (1 + Γ)/(1 − Γ), split into its parts (any text on transmission lines, under Smith
 * chart).
 */
public final class SmithChart {
  private static final double ROUNDING = 1e-12;

  private SmithChart() {}

  /** A circle in the plane of Γ. */
  public record Circle(Complex center, double radius) {

    /** How far a point lies outside the circle; negative inside. */
    public double distance(Complex gamma) {
      return gamma.minus(center).abs() - radius;
    }
  }

  /**
   * Part of a circle, less than half of it.
   *
   * @param clockwise the way round from start to end, with the imaginary axis upwards
   */
  public record Arc(Circle circle, Complex start, Complex end, boolean clockwise) {}

  /**
   * Where the normalised resistance is r: about (r/(r + 1), 0) with radius 1/(r + 1), through Γ =
   * 1. For r = 0 it is the rim.
   *
   * @param r normalised resistance, 0 or more
   */
  public static Circle resistanceCircle(double r) {
    Require.notNegative("r", r);
    return new Circle(Complex.of(r / (r + 1), 0), 1 / (r + 1));
  }

  /**
   * Where the normalised reactance is x, within the disc: about (1, 1/x) with radius 1/|x|, from Γ
   * = 1 (an open end) to the rim at z = jx. For x = 0 it is the real axis, which is no arc.
   *
   * @param x normalised reactance, not 0; inductive above 0
   */
  public static Arc reactanceArc(double x) {
    Require.finite("x", x);
    if (x == 0 || Double.isInfinite(1 / x)) {
      throw Require.refuse("x", "must not be 0, where the arc is the real axis, but is " + x);
    }
    Circle circle = new Circle(Complex.of(1, 1 / x), Math.abs(1 / x));
    return new Arc(circle, Complex.ONE, gammaOf(Complex.of(0, x)), x > 0);
  }

  /**
   * Where the VSWR has one value: about the centre, with |Γ| as its radius. A line without loss
   * turns Γ on it.
   *
   * @param vswr 1 or more, infinite too
   */
  public static Circle vswrCircle(double vswr) {
    return new Circle(Complex.ZERO, Mismatch.gammaOfVswr(vswr));
  }

  /**
   * Γ = (z − 1)/(z + 1). An open end, whose z is infinite, lies at {@link Complex#ONE}.
   *
   * @param impedance normalised impedance, finite, real part 0 or more
   */
  public static Complex gammaOf(Complex impedance) {
    return Reflection.gammaOfLoad(impedance, 1);
  }

  /**
   * z = (1 + Γ)/(1 − Γ), the inverse of {@link #gammaOf}; null at Γ = 1, where it is infinite.
   *
   * @param gamma finite, |Γ| at most 1
   */
  public static @Nullable Complex impedanceOf(Complex gamma) {
    return Reflection.impedanceOhm(inDisc(gamma), 1);
  }

  /**
   * Γ seen through more line without loss: Γ·exp(−j·2·β·L), clockwise for line added.
   *
   * @param gamma finite, |Γ| at most 1
   * @param electricalLength line added, one way, as {@link LineStretcher#addedElectricalLengthMm}
   *     gives it; negative for line taken away
   */
  public static Complex turned(Complex gamma, Frequency frequency, Length electricalLength) {
    return inDisc(gamma)
        .times(Complex.ofPolarDeg(1, 2 * phaseChangeDeg(frequency, electricalLength)));
  }

  /**
   * Change of the one-way phase by line added, −360·f·L/c, degrees; that of Γ is twice as much.
   *
   * @param electricalLength line added, one way; negative for line taken away
   */
  public static double phaseChangeDeg(Frequency frequency, Length electricalLength) {
    return 0.0 - VelocityFactor.VACUUM.degreesPerMetre(frequency) * electricalLength.metres();
  }

  private static Complex inDisc(Complex gamma) {
    Require.within("gamma", gamma.abs(), 0, 1 + ROUNDING);
    return gamma;
  }
}
