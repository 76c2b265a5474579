package org.equiphase.catalog;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
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

  /** The state as people read it, such as "due in 12 days"; empty where nothing needs saying. */
  public static String words(@Nullable LocalDate due, LocalDate today) {
    if (due == null) {
      return "";
    }
    long days = Math.abs(ChronoUnit.DAYS.between(today, due));
    String span = days == 1 ? "1 day" : days + " days";
    return switch (of(due, today)) {
      case OVERDUE -> "overdue by " + span;
      case DUE_SOON -> days == 0 ? "due today" : "due in " + span;
      case VALID, NOT_CALIBRATED -> "";
    };
  }
}
