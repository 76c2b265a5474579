package org.equiphase.catalog;

import java.time.LocalDate;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;

/** How the overview says numbers and due dates. */
record OverviewTexts(LocalDate today) {

  public String plain(double value) {
    return NumberText.typed(value);
  }

  public String fixed(double value, int decimals) {
    return NumberText.fixed(value, decimals);
  }

  public String due(@Nullable LocalDate day) {
    return Texts.say(CalibrationState.words(day, today));
  }

  /** The kind of mark that a due date gets. */
  public String mark(LocalDate day) {
    return CalibrationState.of(day, today) == CalibrationState.OVERDUE ? "bad" : "warn";
  }
}
