package org.equiphase.rf.touchstone;

/**
 * A Touchstone file that can't be read or written. The message names the line, what is wrong there
 * and what would do.
 */
public final class TouchstoneException extends RuntimeException {
  private static final long serialVersionUID = 1L;

  private final int line;
  private final String field;

  public TouchstoneException(int line, String field, String message) {
    super(line > 0 ? "line " + line + ", " + field + ": " + message : field + ": " + message);
    this.line = line;
    this.field = field;
  }

  /** Line of the file, from 1; 0 if the fault is not in one line. */
  public int line() {
    return line;
  }

  /** What is to blame: a keyword, "option line", "frequency", "S21" and the like. */
  public String field() {
    return field;
  }
}
