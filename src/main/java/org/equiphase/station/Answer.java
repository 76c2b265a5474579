package org.equiphase.station;

/** What the service said to a file. */
sealed interface Answer {

  /**
   * The service has it.
   *
   * @param note what it became
   */
  record Taken(String note) implements Answer {}

  /** It will never do. */
  record Refused(String reason) implements Answer {}

  /** Not now; other files may well do. */
  record Later(String reason) implements Answer {}
}
