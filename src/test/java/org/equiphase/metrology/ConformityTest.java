package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import org.assertj.core.data.Percentage;
import org.equiphase.rf.CsvRows;
import org.equiphase.rf.InvalidQuantityException;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Validation of verdicts and their probability. */
class ConformityTest {

  static Stream<CsvRows.Row> cases() {
    return CsvRows.of("/uncertainty/expected.csv");
  }

  /** Solved cases, see the README beside them. */
  @ParameterizedTest
  @MethodSource("cases")
  void judgesAsIntegrated(CsvRows.Row row) {
    double value = row.number("value");
    double u = row.number("standard_uncertainty");
    Double lower = optional(row, "lower");
    Double upper = optional(row, "upper");
    Conformity verdict = Conformity.of(value, u, lower, upper, 1);
    assertThat(verdict.probability())
        .isCloseTo(row.number("conformance_probability"), within(1e-12));
    assertThat(outside(value, u, lower, upper))
        .isCloseTo(row.number("nonconformance_probability"), within(1e-12));
    assertThat(verdict.acceptedSimple()).isEqualTo(row.text("simple_decision").equals("accept"));
    assertThat(verdict.acceptedGuarded()).isEqualTo(row.text("guarded_decision").equals("accept"));
    sameLimit(verdict.acceptanceLower(), optional(row, "accept_lower_k2"));
    sameLimit(verdict.acceptanceUpper(), optional(row, "accept_upper_k2"));
  }

  /**
   * JCGM 106:2012, examples of clause 7 as recalled: breakdown voltage 5.47 kV under 5.40 kV is out
   * of it, metal temperature 509.7 °C above 490 °C, a two-sided interval. Printed to two digits;
   * further digits recomputed from z.
   */
  @ParameterizedTest
  @CsvSource({
    "5.47, 0.05, 5.40, , 0.919",
    "509.7, 8.6, 490, , 0.989",
    "13.6, 1.8, 12.5, 16.3, 0.663"
  })
  void examplesOfTheGuide(
      double value, double u, @Nullable Double lower, @Nullable Double upper, double probability) {
    assertThat(Conformity.of(value, u, lower, upper, 0).probability())
        .isCloseTo(probability, within(5e-4));
  }

  /**
   * Risk at the acceptance limit: w = U 2.275 %, 0.83 U 4.85 %, 1.5 U 0.135 %, none 50 % (normal
   * distribution's tails; ILAC-G8:09/2019, 4.2 for U).
   */
  @ParameterizedTest
  @CsvSource({"1, 0.02275", "0.83, 0.0485", "1.5, 0.00135", "0, 0.5"})
  void riskAtTheAcceptanceLimit(double guardFactor, double risk) {
    Double limit = Conformity.of(0, 1, null, 100.0, guardFactor).acceptanceUpper();
    Conformity atLimit = Conformity.of(required(limit), 1, null, 100.0, guardFactor);
    assertThat(atLimit.acceptedGuarded()).isTrue();
    assertThat(1 - atLimit.probability()).isCloseTo(risk, within(5e-6 + 0.001 * risk));
  }

  /** Upper tail of the standard normal: Q(6), Q(7), Q(10), by scipy 1.17 (stats.norm.sf). */
  @ParameterizedTest
  @CsvSource({
    "6, 9.8658764503769814e-10",
    "7, 1.2798125438858350e-12",
    "10, 7.6198530241605261e-24"
  })
  void tailsKeepTheirDigits(double z, double tail) {
    assertThat(Normal.inside(0, 1, z, Double.POSITIVE_INFINITY))
        .isCloseTo(tail, Percentage.withPercentage(1e-10));
    assertThat(Normal.inside(0, 1, z, 1e6)).isCloseTo(tail, Percentage.withPercentage(1e-10));
    assertThat(Normal.inside(0, 1, Double.NEGATIVE_INFINITY, -z))
        .isCloseTo(tail, Percentage.withPercentage(1e-10));
    assertThat(Normal.outside(0, 1, -z, z)).isCloseTo(2 * tail, Percentage.withPercentage(1e-10));
  }

  @Test
  void exactValuesAreCertain() {
    assertThat(Conformity.of(3, 0, -3.0, 3.0, 1))
        .isEqualTo(new Conformity(1, true, true, -3.0, 3.0));
    assertThat(Conformity.of(3.1, 0, -3.0, 3.0, 1))
        .isEqualTo(new Conformity(0, false, false, -3.0, 3.0));
  }

  /** 1.4 − 2·0.05 and 0.1 + 2·0.05 are not what people type, by one step of a double. */
  @Test
  void limitsAreInclusiveAsTyped() {
    assertThat(1.4 - 0.1).isLessThan(1.3);
    assertThat(Conformity.of(1.3, 0.05, null, 1.4, 1).acceptedGuarded()).isTrue();
    assertThat(Conformity.of(0.2, 0.05, 0.1, 0.3, 1).acceptedGuarded()).isTrue();
    assertThat(Conformity.of(1.3 + 1e-9, 0.05, null, 1.4, 1).acceptedGuarded()).isFalse();
  }

  @Test
  void refusesWhatCantBeJudged() {
    refused("value", () -> Conformity.of(Double.NaN, 1, 0.0, 1.0, 1));
    refused("standardUncertainty", () -> Conformity.of(0, -1, 0.0, 1.0, 1));
    refused("standardUncertainty", () -> Conformity.of(0, 1e308, 0.0, 1.0, 1));
    refused("upper", () -> Conformity.of(0, 8e307, null, -1e308, 1));
    refused("lower", () -> Conformity.of(0, 1, 2.0, 1.0, 1));
    refused("lower", () -> Conformity.of(0, 1, null, null, 1));
    refused("upper", () -> Conformity.of(0, 1, null, Double.POSITIVE_INFINITY, 1));
    refused("guardFactor", () -> Conformity.of(0, 1, null, 1.0, -0.1));
  }

  private static void refused(String field, Runnable call) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(call::run)
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }

  private static double outside(
      double value, double u, @Nullable Double lower, @Nullable Double upper) {
    return Normal.outside(
        value,
        u,
        lower == null ? Double.NEGATIVE_INFINITY : lower,
        upper == null ? Double.POSITIVE_INFINITY : upper);
  }

  private static @Nullable Double optional(CsvRows.Row row, String column) {
    return row.text(column).isEmpty() ? null : row.number(column);
  }

  private static double required(@Nullable Double value) {
    assertThat(value).isNotNull();
    return value == null ? 0 : value;
  }

  private static void sameLimit(@Nullable Double actual, @Nullable Double expected) {
    if (expected == null) {
      assertThat(actual).isNull();
    } else {
      assertThat(required(actual)).isCloseTo(expected, within(1e-9));
    }
  }
}
