package org.equiphase.matching;

import java.util.Arrays;

/**
 * How hard each candidate is to place: the fewer points could be with it, the harder.
 *
 * @param mates for each candidate, the number of points within a window of it, up to a limit
 * @param rank place of each candidate in the order of hardness, 0 the hardest; ties by index
 * @param order the candidates in that order
 */
record PoolHardness(int[] mates, int[] rank, int[] order) {

  /** Points counted one by one; beyond, a sample of the pool tells the number. */
  private static final int MOST_COUNTED = 256;

  private static final int LEAST_COUNTED = 64;

  /** Comparisons with the sample in all; they bound its size in large pools. */
  private static final int MOST_COMPARED = 10_000_000;

  private static final int LARGEST_SAMPLE = 1_024;

  static PoolHardness of(PoolModel model, PoolPoints points, PoolTree tree, Work work) {
    int dims = model.dims;
    int[] mates = new int[model.candidates];
    double[] lower = new double[dims];
    double[] upper = new double[dims];
    int[] sample = sample(points, tree);
    int counted = Math.max(LEAST_COUNTED, Math.min(MOST_COUNTED, sample.length / 4));
    double scale = (double) tree.size() / Math.max(1, sample.length);
    for (int p = 0; p < points.count; p++) {
      if (!tree.contains(p)) {
        continue;
      }
      for (int d = 0; d < dims; d++) {
        lower[d] = points.x[p * dims + d] - model.width[d];
        upper[d] = points.x[p * dims + d] + model.width[d];
      }
      int count = tree.count(lower, upper, counted);
      if (count >= counted) {
        count = Math.max(count, (int) (scale * points.inside(sample, lower, upper)));
        work.spend(sample.length);
      }
      mates[points.owner[p]] = Math.max(mates[points.owner[p]], count);
    }
    work.spend(tree.takeLooks());
    int[] order = PoolOrder.sorted(model.candidates, (i, j) -> Integer.compare(mates[i], mates[j]));
    int[] rank = new int[order.length];
    for (int r = 0; r < order.length; r++) {
      rank[order[r]] = r;
    }
    return new PoolHardness(mates, rank, order);
  }

  /** Every so manyth of the points in the tree. */
  private static int[] sample(PoolPoints points, PoolTree tree) {
    int wanted = Math.min(LARGEST_SAMPLE, MOST_COMPARED / Math.max(1, tree.size()) + 16);
    int every = tree.size() / wanted + 1;
    int[] sample = new int[tree.size() / every + 1];
    int size = 0;
    int seen = 0;
    for (int p = 0; p < points.count; p++) {
      if (tree.contains(p) && seen++ % every == 0) {
        sample[size++] = p;
      }
    }
    return Arrays.copyOf(sample, size);
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
