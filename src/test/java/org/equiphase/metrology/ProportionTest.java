package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ProportionTest {

  /**
   * Validation: score intervals (method 3) printed by R. G. Newcombe, Two-sided confidence
   * intervals for the single proportion, Statistics in Medicine 17 (1998) 857, table I; the figures
   * are from memory, the arithmetic was done again with SciPy.
   */
  @ParameterizedTest
  @CsvSource({
    "81, 263, 0.2553, 0.3662",
    "15, 148, 0.0624, 0.1605",
    "0, 20, 0.0000, 0.1611",
    "1, 29, 0.0061, 0.1718"
  })
  void scoreInterval(long successes, long count, double lower, double upper) {
    Proportion proportion = Proportion.of(successes, count, 0.95);
    assertThat(proportion.lower()).isCloseTo(lower, within(5e-5));
    assertThat(proportion.upper()).isCloseTo(upper, within(5e-5));
    assertThat(proportion.share()).isEqualTo((double) successes / count);
  }

  @Test
  void keepsToZeroAndOne() {
    assertThat(Proportion.of(5, 5, 0.99).upper()).isEqualTo(1);
    assertThat(Proportion.of(0, 5, 0.99).lower()).isEqualTo(0);
  }

  @Test
  void refusesWhatIsNoShare() {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> Proportion.of(6, 5, 0.95))
        .withMessageContaining("successes");
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> Proportion.of(0, 0, 0.95))
        .withMessageContaining("count");
  }
}
