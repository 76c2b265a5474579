package org.equiphase.matching;

/** Nodes and weights of the Gauss–Legendre rule on 0 to 1. */
final class GaussLegendre {

  private final double[] node;
  private final double[] weight;

  GaussLegendre(int size) {
    node = new double[size];
    weight = new double[size];
    for (int i = 0; i < size; i++) {
      // Newton's method from the usual start on the roots of the Legendre polynomial.
      double x = Math.cos(Math.PI * (i + 0.75) / (size + 0.5));
      double slope = 0;
      for (int round = 0; round < 10; round++) {
        double before = 1;
        double value = x;
        for (int n = 2; n <= size; n++) {
          double next = ((2 * n - 1) * x * value - (n - 1) * before) / n;
          before = value;
          value = next;
        }
        slope = size * (x * value - before) / (x * x - 1);
        x -= value / slope;
      }
      node[i] = (1 - x) / 2;
      weight[i] = 1 / ((1 - x * x) * slope * slope);
    }
  }

  int size() {
    return node.length;
  }

  double node(int i) {
    return node[i];
  }

  double weight(int i) {
    return weight[i];
  }
}
