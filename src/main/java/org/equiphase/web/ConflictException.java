package org.equiphase.web;

/**
 * The request is sound, but things have moved on since its sender last looked: an older version, a
 * stale instruction, a taken name. Answered with 409.
 */
public class ConflictException extends RuntimeException {

  /**
   * @param message what has changed, and what to do next
   */
  public ConflictException(String message) {
    super(message);
  }
}
