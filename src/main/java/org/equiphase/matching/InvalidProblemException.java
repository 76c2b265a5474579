package org.equiphase.matching;

/** A problem that can't be posed: one of its fields is missing, not finite or out of range. */
public class InvalidProblemException extends IllegalArgumentException {

  private static final long serialVersionUID = 1L;

  private final String field;

  /**
   * @param field the path of the field, such as {@code assemblies[3].phaseErrorDeg[0]}; indices
   *     count from 0 in the order of the input
   * @param message what is wrong with it and what would do
   */
  public InvalidProblemException(String field, String message) {
    super(message);
    this.field = field;
  }

  /** The path of the field, such as {@code assemblies[3].phaseErrorDeg[0]}. */
  public String field() {
    return field;
  }
}
