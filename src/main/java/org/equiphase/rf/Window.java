package org.equiphase.rf;

/**
 * Weights over the points of a sweep before it is transformed: a smoother window trades resolution
 * for lower sidelobes. Widths are in 1/span of time, the span taken as points·step.
 *
 * @param kind shape
 * @param beta β of the Kaiser window, 0 (rectangular) to 30; 0 for the others
 */
public record Window(Kind kind, double beta) {
  private static final double LARGEST_BETA = 30;

  // The first sidelobe of sin x/x, at x = 4.4934.
  private static final double SINC_SIDELOBE = 0.217233628;

  // −31.47 dB (F. J. Harris, Proc. IEEE 66, 1978, the table of windows).
  private static final double HANN_SIDELOBE = 0.02670;

  /** Shapes of windows. */
  public enum Kind {
    RECTANGULAR,
    HANN,
    KAISER
  }

  /**
   * @throws InvalidQuantityException for {@code beta} out of range
   */
  public Window {
    Require.within("beta", beta, 0, kind == Kind.KAISER ? LARGEST_BETA : 0);
  }

  public static Window rectangular() {
    return new Window(Kind.RECTANGULAR, 0);
  }

  public static Window hann() {
    return new Window(Kind.HANN, 0);
  }

  /** The Kaiser window, I0(β·√(1 − x²))/I0(β), x from −1 to 1. */
  public static Window kaiser(double beta) {
    return new Window(Kind.KAISER, beta);
  }

  /** Weights of so many points, two or more; the largest about 1. */
  double[] weights(int points) {
    double[] weights = new double[points];
    for (int k = 0; k < points; k++) {
      double x = 2.0 * k / (points - 1) - 1;
      weights[k] =
          switch (kind) {
            case RECTANGULAR -> 1;
            case HANN -> 0.5 + 0.5 * Math.cos(Math.PI * x);
            case KAISER -> bessel(beta * Math.sqrt(Math.max(0, 1 - x * x))) / bessel(beta);
          };
    }
    return weights;
  }

  /**
   * Highest sidelobe of a reflection against its peak. Kaiser: 0.2172·β/sinh β (J. F. Kaiser and R.
   * W. Schafer, IEEE Trans. ASSP-28, 1980).
   */
  double sidelobe() {
    return switch (kind) {
      case RECTANGULAR -> SINC_SIDELOBE;
      case HANN -> HANN_SIDELOBE;
      case KAISER -> beta == 0 ? SINC_SIDELOBE : SINC_SIDELOBE * beta / Math.sinh(beta);
    };
  }

  /** Distance of the first null from the peak. */
  double firstNull() {
    return switch (kind) {
      case RECTANGULAR -> 1;
      case HANN -> 2;
      case KAISER -> Math.hypot(1, beta / Math.PI);
    };
  }

  /** I0, by its power series. */
  private static double bessel(double x) {
    double term = 1;
    double sum = 1;
    for (int k = 1; term > 1e-17 * sum; k++) {
      term *= x / (2 * k) * (x / (2 * k));
      sum += term;
    }
    return sum;
  }
}
