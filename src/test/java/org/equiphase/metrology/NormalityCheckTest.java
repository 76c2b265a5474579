package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/**
 * Validation against scipy.stats.anderson of SciPy 1.17.1, which gives A² before its adjustment.
 */
class NormalityCheckTest {

  @Test
  void flowRatesLookNormal() {
    NormalityCheck check =
        NormalityCheck.of(
            new double[] {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1});
    assertThat(check.statistic()).isCloseTo(0.3048580492709476, within(1e-9));
    assertThat(check.adjusted()).isCloseTo(0.3048580492709476 * (1 + 0.075 + 0.0225), within(1e-9));
    assertThat(check.looksNormal()).isTrue();
  }

  @Test
  void valuesThatGrowLikePowersDont() {
    NormalityCheck check =
        NormalityCheck.of(new double[] {.1, .2, .25, .4, .5, .7, 1.1, 1.6, 2.5, 4.4, 7.9, 14.1});
    assertThat(check.statistic()).isCloseTo(1.5387934165971355, within(1e-9));
    assertThat(check.looksNormal()).isFalse();
  }

  @Test
  void refusesWhatHasNoShape() {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> NormalityCheck.of(new double[7]))
        .withMessageContaining("8 or more");
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> NormalityCheck.of(new double[8]))
        .withMessageContaining("must differ");
  }
}
