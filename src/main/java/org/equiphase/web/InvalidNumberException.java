package org.equiphase.web;

/** A text that is no finite number. */
class InvalidNumberException extends IllegalArgumentException {
  InvalidNumberException(String message) {
    super(message);
  }
}
