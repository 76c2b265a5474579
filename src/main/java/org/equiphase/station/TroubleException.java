package org.equiphase.station;

/** No file can be sent at present; the message says why. */
final class TroubleException extends Exception {

  private static final long serialVersionUID = 1L;

  private final boolean needsPerson;

  private TroubleException(String message, boolean needsPerson) {
    super(message);
    this.needsPerson = needsPerson;
  }

  /** Something that may pass by itself. */
  static TroubleException passing(String message) {
    return new TroubleException(message, false);
  }

  /** Something that a person has to mend, so there is no hurry to try again. */
  static TroubleException lasting(String message) {
    return new TroubleException(message, true);
  }

  boolean needsPerson() {
    return needsPerson;
  }
}
