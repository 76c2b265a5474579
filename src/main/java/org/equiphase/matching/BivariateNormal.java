package org.equiphase.matching;

/** The standard bivariate normal distribution function. */
final class BivariateNormal {

  private static final GaussLegendre RULE = new GaussLegendre(6);

  /** Beyond this a limit is passed for sure, or not at all, to within 1e-7. */
  private static final double FAR = 5.2;

  private final double[] sine = new double[RULE.size()];
  private final double[] halfOverCosineSquared = new double[RULE.size()];
  private final double[] weight = new double[RULE.size()];

  /**
   * @param correlation from 0 to 0.75, where it is good to 1e-6
   */
  BivariateNormal(double correlation) {
    double angle = Math.asin(correlation);
    for (int i = 0; i < sine.length; i++) {
      double theta = angle * RULE.node(i);
      sine[i] = Math.sin(theta);
      halfOverCosineSquared[i] = 0.5 / (Math.cos(theta) * Math.cos(theta));
      weight[i] = RULE.weight(i) * angle / (2 * Math.PI);
    }
  }

  /**
   * P(X ≤ h, Y ≤ k) = Φ(h)·Φ(k) + ∫ exp(−(h² + k² − 2hk·sin θ)/(2cos²θ))/(2π) dθ from 0 to asin ρ
   * (Drezner and Wesolowsky, J. Stat. Comput. Simul. 35 (1990) 101–107).
   */
  double cdf(double h, double k) {
    double sum = StandardNormal.cdf(h) * StandardNormal.cdf(k);
    if (Math.abs(h) > FAR || Math.abs(k) > FAR) {
      return sum;
    }
    double squares = h * h + k * k;
    double product = 2 * h * k;
    for (int i = 0; i < sine.length; i++) {
      sum += weight[i] * Math.exp((product * sine[i] - squares) * halfOverCosineSquared[i]);
    }
    return sum;
  }
}
