package org.equiphase.matching;

/**
 * How hard each candidate is to place: the fewer points could be with it, the harder.
 *
 * @param mates for each candidate, the number of points within a window of it, up to a limit
 * @param rank place of each candidate in the order of hardness, 0 the hardest; ties by index
 * @param order the candidates in that order
 */
record PoolHardness(int[] mates, int[] rank, int[] order) {

  static PoolHardness of(PoolModel model, PoolPoints points, PoolTree tree, int limit, Work work) {
    int dims = model.dims;
    int[] mates = new int[model.candidates];
    double[] lower = new double[dims];
    double[] upper = new double[dims];
    for (int p = 0; p < points.count; p++) {
      if (tree.contains(p)) {
        for (int d = 0; d < dims; d++) {
          lower[d] = points.x[p * dims + d] - model.width[d];
          upper[d] = points.x[p * dims + d] + model.width[d];
        }
        int i = points.owner[p];
        mates[i] = Math.max(mates[i], tree.count(lower, upper, limit));
      }
    }
    work.spend(tree.takeLooks());
    int[] order = PoolOrder.sorted(model.candidates, (i, j) -> Integer.compare(mates[i], mates[j]));
    int[] rank = new int[order.length];
    for (int r = 0; r < order.length; r++) {
      rank[order[r]] = r;
    }
    return new PoolHardness(mates, rank, order);
  }

  /** Weights that draw a window towards hard candidates; the more so, the higher the power. */
  double[] weights(double power) {
    double[] weights = new double[mates.length];
    for (int i = 0; i < weights.length; i++) {
      weights[i] = Math.pow(1.0 + mates[i], -power);
    }
    return weights;
  }
}
