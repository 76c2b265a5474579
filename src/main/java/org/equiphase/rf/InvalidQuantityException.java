package org.equiphase.rf;

/**
 * A value that a calculation can't use. The message names the field, the value and what would do.
 */
public class InvalidQuantityException extends IllegalArgumentException {
  private static final long serialVersionUID = 1L;

  private final String field;

  public InvalidQuantityException(String field, String message) {
    super(message);
    this.field = field;
  }

  /** Name of the field that is to blame, with its unit, as in {@code frequencyHz}. */
  public String field() {
    return field;
  }
}
