package org.equiphase.array;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Validation of the tapers. */
class TaperTest {

  static Stream<ArrayCase> taylor() {
    return ArrayCase.all().filter(solved -> solved.expected().text("taper").startsWith("taylor"));
  }

  /** Amplitudes of the solved cases, made by another program and rounded to 1e-8. */
  @ParameterizedTest
  @MethodSource("taylor")
  void taylorsAreThoseOfTheSolvedCases(ArrayCase solved) {
    String[] parts = solved.expected().text("taper").split("_", -1);

    double[] taper =
        Taper.taylor(
            solved.taper().length,
            Double.parseDouble(parts[1]),
            Integer.parseInt(parts[2].substring("nbar".length())));

    assertThat(taper).containsExactly(solved.taper(), within(5.1e-9));
  }

  /**
   * With many elements the first sidelobes come close to the level that was asked for, a little
   * lower (Taylor's own approximation).
   */
  @ParameterizedTest
  @CsvSource({"-20, 3", "-25, 4", "-30, 5", "-35, 6", "-40, 7"})
  void taylorKeepsItsLevel(double sidelobeDb, int nBar) {
    double achieved = sidelobeDb(Taper.taylor(200, sidelobeDb, nBar));

    assertThat(achieved).isBetween(sidelobeDb - 0.65, sidelobeDb);
  }

  /**
   * The array factor is T(N−1)(x0·cos(ψ/2)) at every ψ (C. L. Dolph, Proc. IRE 34, 1946), so all
   * sidelobes stand at the level.
   */
  @ParameterizedTest
  @CsvSource({"2, -20", "3, -20", "5, -20", "8, -40", "10, -26", "33, -30", "64, -60", "501, -25"})
  void chebyshevIsThePolynomial(int elements, double sidelobeDb) {
    double[] taper = Taper.chebyshev(elements, sidelobeDb);

    double ratio = Math.pow(10, -sidelobeDb / 20);
    int order = elements - 1;
    double x0 = Math.cosh(Math.log(ratio + Math.sqrt(ratio * ratio - 1)) / order);
    double sum = java.util.Arrays.stream(taper).sum();
    for (int i = 0; i <= 100; i++) {
      double psi = Math.PI * i / 100;
      double factor = 0;
      for (int n = 0; n < elements; n++) {
        factor += taper[n] / sum * Math.cos((n - order / 2.0) * psi);
      }
      assertThat(factor)
          .isCloseTo(byRecurrence(order, x0 * Math.cos(psi / 2)) / ratio, within(1e-9));
    }
    if (elements > 3) {
      assertThat(sidelobeDb(taper)).isCloseTo(sidelobeDb, within(1e-7));
    }
  }

  /** T(n+1) = 2x·T(n) − T(n−1), the definition that the taper doesn't use. */
  private static double byRecurrence(int order, double x) {
    double before = 1;
    double value = x;
    for (int n = 1; n < order; n++) {
      double next = 2 * x * value - before;
      before = value;
      value = next;
    }
    return order == 0 ? 1 : value;
  }

  /**
   * Ten elements at −26 dB: 1, 1.357, 1.974, 2.496, 2.798 from the end to the middle (C. A.
   * Balanis, Antenna Theory, example of the Dolph-Tschebyscheff design; from memory).
   */
  @Test
  void chebyshevIsTheTextbookExample() {
    double[] taper = Taper.chebyshev(10, -26);

    double[] textbook = {1, 1.357, 1.974, 2.496, 2.798};
    for (int n = 0; n < textbook.length; n++) {
      assertThat(taper[n] / taper[0]).isCloseTo(textbook[n], within(0.011 * textbook[n]));
      assertThat(taper[9 - n]).isCloseTo(taper[n], within(1e-12));
    }
  }

  @Test
  void badInputIsNamed() {
    assertRefused("elements", () -> Taper.uniform(0));
    assertRefused("elements", () -> Taper.chebyshev(100_000, -30));
    assertRefused("sidelobeDb", () -> Taper.chebyshev(10, 30));
    assertRefused("sidelobeDb", () -> Taper.taylor(10, 0, 3));
    assertRefused("sidelobeDb", () -> Taper.taylor(10, Double.NaN, 3));
    assertRefused("nBar", () -> Taper.taylor(10, -30, 0));
    assertRefused("nBar", () -> Taper.taylor(10, -30, 11));
  }

  private static void assertRefused(
      String field, org.assertj.core.api.ThrowableAssert.ThrowingCallable call) {
    assertThatThrownBy(call)
        .isInstanceOfSatisfying(
            InvalidQuantityException.class, e -> assertThat(e.field()).isEqualTo(field));
  }

  private static double sidelobeDb(double[] taper) {
    return ArrayEffect.of(LinearArray.ofSpacing(0.5, taper), 0, new double[taper.length])
        .idealPeakSidelobeDb()
        .orElseThrow();
  }
}
