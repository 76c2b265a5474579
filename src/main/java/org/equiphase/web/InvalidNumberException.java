package org.equiphase.web;

/** A text that is no finite number. */
class InvalidNumberException extends IllegalArgumentException {

  private final Sentence words;

  InvalidNumberException(Sentence words) {
    super(words.toString());
    this.words = words;
  }

  Sentence words() {
    return words;
  }
}
