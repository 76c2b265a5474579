package org.equiphase.rf;

/** A sweep whose phase turns 180° or more from point to point, so that turns can't be counted. */
public final class UndersampledSweepException extends InvalidQuantityException {
  private static final long serialVersionUID = 1L;

  private final long sufficientPoints;

  UndersampledSweepException(String message, long sufficientPoints) {
    super(Sweep.FIELD, message);
    this.sufficientPoints = sufficientPoints;
  }

  /** Number of evenly spaced points over the same span that would do. */
  public long sufficientPoints() {
    return sufficientPoints;
  }
}
