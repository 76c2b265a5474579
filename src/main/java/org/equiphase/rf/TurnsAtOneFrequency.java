package org.equiphase.rf;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * The total insertion phase behind a phase measured at a single frequency. Its whole turns come
 * from the expected length.
 *
 * @param phaseDeg one-way phase, degrees, in (−{@code moduloDeg}/2, +{@code moduloDeg}/2]
 * @param moduloDeg what the one-way phase is known modulo: 360 in transmission, 180 in reflection
 * @param totalPhaseDeg one-way phase with all its turns, degrees; empty where they are ambiguous
 * @param turns whole turns of it: (wrapped one-way phase − total)/360; empty where ambiguous
 * @param departureDeg total phase less that of the expected length, degrees; empty where ambiguous
 */
public record TurnsAtOneFrequency(
    double phaseDeg,
    double moduloDeg,
    OptionalDouble totalPhaseDeg,
    OptionalInt turns,
    OptionalDouble departureDeg) {

  /**
   * Resolves the turns. They are ambiguous, and the phase holds modulo 360° (180° in reflection)
   * only, when the expected length's uncertainty passes half a wavelength on the line (a quarter in
   * reflection).
   *
   * @param measuredPhaseDeg phase of S21, or of Γ with the end standard's phase still in it,
   *     degrees, any turn
   * @param endPhaseDeg phase of the end standard, degrees; 0 in transmission
   * @param expectedLength physical length, above 0
   * @param uncertainty half-width of the interval that holds the true length, 0 or more
   * @throws InvalidQuantityException for a value out of range
   */
  public static TurnsAtOneFrequency resolve(
      Frequency frequency,
      Method method,
      double measuredPhaseDeg,
      double endPhaseDeg,
      VelocityFactor velocityFactor,
      Length expectedLength,
      Length uncertainty) {
    Require.finite("phaseDeg", measuredPhaseDeg);
    Require.finite("endPhaseDeg", endPhaseDeg);
    Require.positive("expectedLengthM", expectedLength.metres());
    Require.notNegative("expectedLengthUncertaintyM", uncertainty.metres());
    double moduloDeg = 360.0 / method.passes();
    double phaseDeg =
        WrappedPhase.wrap((measuredPhaseDeg - endPhaseDeg) / method.passes(), moduloDeg);
    double degreesPerMetre = velocityFactor.degreesPerMetre(frequency);
    if (uncertainty.metres() * degreesPerMetre >= moduloDeg / 2) {
      return new TurnsAtOneFrequency(
          phaseDeg, moduloDeg, OptionalDouble.empty(), OptionalInt.empty(), OptionalDouble.empty());
    }
    double expectedDeg = -expectedLength.metres() * degreesPerMetre;
    double departureDeg = WrappedPhase.wrap(phaseDeg - expectedDeg, moduloDeg);
    double totalDeg = expectedDeg + departureDeg;
    long turns = Math.round((WrappedPhase.wrapDeg(totalDeg) - totalDeg) / 360);
    return new TurnsAtOneFrequency(
        phaseDeg,
        moduloDeg,
        OptionalDouble.of(totalDeg),
        OptionalInt.of(Math.toIntExact(turns)),
        OptionalDouble.of(departureDeg));
  }

  public boolean ambiguous() {
    return totalPhaseDeg.isEmpty();
  }
}
