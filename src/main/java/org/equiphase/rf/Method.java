package org.equiphase.rf;

/** How the phase of an assembly is measured. */
public enum Method {
  /** S21 from end to end: the phase is the insertion phase. */
  TRANSMISSION(1, 0),
  /** S11 with the far end shorted: Γ's phase is 180° and twice the insertion phase. */
  REFLECTION_SHORT(2, 180),
  /** S11 with the far end open: Γ's phase is twice the insertion phase. */
  REFLECTION_OPEN(2, 0);

  private final int passes;
  private final double idealEndPhaseDeg;

  Method(int passes, double idealEndPhaseDeg) {
    this.passes = passes;
    this.idealEndPhaseDeg = idealEndPhaseDeg;
  }

  /** How often the wave passes the assembly: 1 in transmission, 2 in reflection. */
  public int passes() {
    return passes;
  }

  public boolean isReflection() {
    return passes == 2;
  }

  /** Phase that an ideal far end adds to Γ, degrees; 0 in transmission. */
  public double idealEndPhaseDeg() {
    return idealEndPhaseDeg;
  }
}
