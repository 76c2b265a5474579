package org.equiphase.rf;

import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * The reflection coefficient of a load seen through added line. Along a line without loss it turns
 * on a circle of constant VSWR.
 *
 * @param gamma reflection coefficient
 * @param impedanceOhm impedance of the load seen through the line, ohm; null where it is infinite
 * @param vswr voltage standing wave ratio; empty where it is infinite
 * @param returnLossDb return loss, dB, positive; empty where it is infinite
 * @param rotationDeg phase that the added line turned Γ by, degrees, with all its turns
 */
public record Reflection(
    Complex gamma,
    @Nullable Complex impedanceOhm,
    OptionalDouble vswr,
    OptionalDouble returnLossDb,
    double rotationDeg) {

  // Results closer to their poles than rounding can tell are infinite.
  private static final double ROUNDING = 1e-12;
  private static final double NO_REFLECTION = 1e-15;

  /**
   * Looks at a load through added line of the reference impedance, towards the generator: Γ =
   * Γ(load)·10^(−2·a·L/20)·exp(−j·4π·f·L/(v·c)), with Γ(load) = (Z − R)/(Z + R) and Z = R·(1 +
   * Γ)/(1 − Γ) at the input (any text on transmission lines).
   *
   * @param referenceOhm impedance of line and reference, ohm, above 0
   * @param loadOhm impedance of the load, ohm, finite, real part 0 or more
   * @param addedLength line added; negative for line taken away
   * @param attenuationDbPerM attenuation of the added line, dB/m, 0 or more
   * @throws InvalidQuantityException for a value out of range, and for a line taken away that can't
   *     have been there because |Γ| would pass 1
   */
  public static Reflection throughLine(
      Frequency frequency,
      double referenceOhm,
      Complex loadOhm,
      Length addedLength,
      VelocityFactor velocityFactor,
      double attenuationDbPerM) {
    Require.positive("referenceOhm", referenceOhm);
    Require.notNegative("attenuationDbPerM", attenuationDbPerM);
    double rotationDeg =
        Require.finiteResult(
            "addedLengthMm",
            addedLength.inMillimetres(),
            -2 * velocityFactor.degreesPerMetre(frequency) * addedLength.metres());
    Complex loadGamma = gammaOfLoad(loadOhm, referenceOhm);
    double shrink = Math.pow(10, -2 * attenuationDbPerM * addedLength.metres() / 20);
    if (loadGamma.abs() * shrink > 1 + ROUNDING) {
      throw new InvalidQuantityException(
          "addedLengthMm",
          "addedLengthMm "
              + addedLength.inMillimetres()
              + " takes more loss away than the load's reflection allows; take less line away");
    }
    Complex gamma = loadGamma.times(Complex.ofPolarDeg(shrink, rotationDeg));
    return new Reflection(
        gamma,
        impedanceOhm(gamma, referenceOhm),
        vswr(gamma),
        returnLoss(gamma),
        0.0 + rotationDeg);
  }

  /**
   * Γ of a passive load, (Z − R)/(Z + R).
   *
   * @param loadOhm impedance, ohm, finite, real part 0 or more
   * @param referenceOhm reference, ohm, above 0
   */
  public static Complex gammaOfLoad(Complex loadOhm, double referenceOhm) {
    Require.finite("loadOhm.re", loadOhm.re());
    Require.finite("loadOhm.im", loadOhm.im());
    Require.positive("referenceOhm", referenceOhm);
    if (loadOhm.re() < 0) {
      throw new InvalidQuantityException(
          "loadOhm.re",
          "loadOhm.re must be 0 or more, as a load gives out no power, not " + loadOhm.re());
    }
    Complex reference = new Complex(referenceOhm, 0);
    Complex gamma = loadOhm.minus(reference).dividedBy(loadOhm.plus(reference));
    if (!gamma.isFinite()) {
      throw new InvalidQuantityException(
          "loadOhm", "loadOhm " + loadOhm.re() + ", " + loadOhm.im() + " is too large");
    }
    return gamma;
  }

  /** Z = R·(1 + Γ)/(1 − Γ), ohm; null where it is infinite. */
  static @Nullable Complex impedanceOhm(Complex gamma, double referenceOhm) {
    Complex rest = Complex.ONE.minus(gamma);
    return rest.abs() <= ROUNDING
        ? null
        : Complex.ONE.plus(gamma).dividedBy(rest).times(referenceOhm);
  }

  private static OptionalDouble vswr(Complex gamma) {
    return gamma.abs() >= 1 - ROUNDING
        ? OptionalDouble.empty()
        : OptionalDouble.of(Mismatch.vswrOfGamma(gamma.abs()));
  }

  private static OptionalDouble returnLoss(Complex gamma) {
    return gamma.abs() <= NO_REFLECTION
        ? OptionalDouble.empty()
        : OptionalDouble.of(Mismatch.returnLossDbOfGamma(Math.min(gamma.abs(), 1)));
  }
}
