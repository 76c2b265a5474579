package org.equiphase.catalog;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** Where a calibration stands on a day. It still holds on the day that it is due. */
public enum CalibrationState {
  NOT_CALIBRATED,
  VALID,
  DUE_SOON,
  OVERDUE;

  /** How many days ahead a calibration counts as due soon. */
  public static final int SOON_DAYS = 30;

  public static CalibrationState of(@Nullable LocalDate due, LocalDate today) {
    if (due == null) {
      return NOT_CALIBRATED;
    }
    if (due.isBefore(today)) {
      return OVERDUE;
    }
    return due.isAfter(today.plusDays(SOON_DAYS)) ? VALID : DUE_SOON;
  }

  private static Sentence dueIn(long days) {
    return Sentence.of(days == 1 ? "catalog.due.one" : "catalog.due", days);
  }

  /** The state as people read it, such as "due in 12 days"; null where nothing needs saying. */
  public static @Nullable Sentence words(@Nullable LocalDate due, LocalDate today) {
    if (due == null) {
      return null;
    }
    long days = Math.abs(ChronoUnit.DAYS.between(today, due));
    return switch (of(due, today)) {
      case OVERDUE -> Sentence.of(days == 1 ? "catalog.overdue.one" : "catalog.overdue", days);
      case DUE_SOON -> days == 0 ? Sentence.of("catalog.dueToday") : dueIn(days);
      case VALID, NOT_CALIBRATED -> null;
    };
  }
}
