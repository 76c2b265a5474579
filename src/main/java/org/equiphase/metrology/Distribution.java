package org.equiphase.metrology;

/** How the possible values of an input are distributed about its estimate. */
public enum Distribution {
  /** The value given is a standard uncertainty. */
  NORMAL(1),
  /** Equally likely anywhere within the half-width: a/√3 (JCGM 100:2008, 4.3.7). */
  RECTANGULAR(Math.sqrt(3)),
  /** The sum of two equal rectangular ones, half-width a: a/√6 (JCGM 100:2008, 4.3.9). */
  TRIANGULAR(Math.sqrt(6)),
  /** A sinusoid of amplitude a at an unknown angle, as mismatch: a/√2 (arcsine distribution). */
  U_SHAPED(Math.sqrt(2));

  private final double divisor;

  Distribution(double divisor) {
    this.divisor = divisor;
  }

  /** What to divide the half-width by for the standard uncertainty. */
  public double divisor() {
    return divisor;
  }
}
