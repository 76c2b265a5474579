package org.equiphase.web;

/**
 * The request is sound, but things have moved on since its sender last looked: an older version, a
 * stale instruction, a taken name. Answered with 409.
 */
public class ConflictException extends RuntimeException {

  private final Sentence words;

  /**
   * @param words what has changed, and what to do next
   */
  public ConflictException(Sentence words) {
    super(words.toString());
    this.words = words;
  }

  public Sentence words() {
    return words;
  }
}
