package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CalibrationStateTest {
  private static final LocalDate TODAY = LocalDate.of(2027, 3, 1);

  @ParameterizedTest
  @CsvSource({
    "2026-03-01, OVERDUE, overdue by 365 days",
    "2027-02-28, OVERDUE, overdue by 1 day",
    "2027-03-01, DUE_SOON, due today",
    "2027-03-02, DUE_SOON, due in 1 day",
    "2027-03-31, DUE_SOON, due in 30 days",
    "2027-04-01, VALID, ''"
  })
  void holdsThroughItsLastDayAndWarnsThirtyDaysAhead(
      LocalDate due, CalibrationState state, String words) {
    assertThat(CalibrationState.of(due, TODAY)).isEqualTo(state);
    assertThat(Objects.toString(CalibrationState.words(due, TODAY), "")).isEqualTo(words);
  }

  @Test
  void withoutADateNothingIsDue() {
    assertThat(CalibrationState.of(null, TODAY)).isEqualTo(CalibrationState.NOT_CALIBRATED);
    assertThat(CalibrationState.words(null, TODAY)).isNull();
  }
}
