package org.equiphase.measurement.scpi;

/** A capture came to nothing; the message is a sentence for the person at the bench. */
public abstract sealed class ScpiException extends RuntimeException {

  private ScpiException(String message) {
    super(message);
  }

  /** Nobody listens there, or the name is not known, or nothing answered in time. */
  public static final class NotConnected extends ScpiException {
    NotConnected(String message) {
      super(message);
    }
  }

  /** The whole answer did not come within the time allowed for it. */
  public static final class NoAnswer extends ScpiException {
    private final boolean partial;

    NoAnswer(String message, boolean partial) {
      super(message);
      this.partial = partial;
    }

    /** Whether a part of the answer came. */
    boolean partial() {
      return partial;
    }
  }

  /** The connection ended while an answer was due. */
  public static final class ConnectionCut extends ScpiException {
    ConnectionCut(String message) {
      super(message);
    }
  }

  /** The instrument itself reports an error. */
  public static final class InstrumentError extends ScpiException {
    private final int number;

    InstrumentError(String message, int number) {
      super(message);
      this.number = number;
    }

    /** The first error's number, such as −113; below zero for the numbers that SCPI-99 defines. */
    public int number() {
      return number;
    }
  }

  /** An answer came that is not what was asked for. */
  public static final class UnusableAnswer extends ScpiException {
    UnusableAnswer(String message) {
      super(message);
    }
  }
}
