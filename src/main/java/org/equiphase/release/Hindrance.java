package org.equiphase.release;

import org.equiphase.web.Sentence;

/**
 * What stands against the release of a set.
 *
 * @param subject the position, serial number or bench that it is about
 * @param link page where it can be mended
 */
public record Hindrance(Kind kind, String subject, Sentence text, String link) {

  public enum Kind {
    ALREADY_RELEASED,
    POSITION_EMPTY,
    NOT_IN_TOLERANCE,
    DRIFT,
    CALIBRATION,
    DISPOSITION_PENDING
  }
}
