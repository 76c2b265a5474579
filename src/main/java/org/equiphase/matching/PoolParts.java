package org.equiphase.matching;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Splits the pool into parts that share no set: at every gap, in any dimension, that is wider than
 * the window. What bounds the parts bounds the pool by its sum.
 */
final class PoolParts {

  private final PoolModel model;
  private final PoolCuts cuts;
  private final PoolPoints points;
  private final PoolTree tree;
  private final Work work;

  /**
   * @param tree holds the points of the candidates that count
   */
  PoolParts(PoolModel model, PoolCuts cuts, PoolPoints points, PoolTree tree, Work work) {
    this.model = model;
    this.cuts = cuts;
    this.points = points;
    this.tree = tree;
    this.work = work;
  }

  /** The parts with enough candidates for a set, each in ascending order. */
  List<int[]> find() {
    Deque<int[]> open = new ArrayDeque<>();
    open.push(
        IntStream.range(0, model.candidates).filter(i -> tree.contains(points.first[i])).toArray());
    List<int[]> parts = new ArrayList<>();
    while (!open.isEmpty()) {
      int[] part = open.pop();
      if (part.length < model.groupSize) {
        continue;
      }
      List<int[]> pieces = List.of(part);
      for (int d = 0; d < model.dims && pieces.size() == 1; d++) {
        pieces = split(part, d);
      }
      if (pieces.size() == 1) {
        Arrays.sort(part);
        parts.add(part);
      } else {
        pieces.forEach(open::push);
      }
    }
    return parts;
  }

  /** Splits at the gaps of one dimension. The points of a candidate have no such gap. */
  private List<int[]> split(int[] part, int d) {
    work.spend(2L * part.length);
    int[] sorted = part.clone();
    PoolOrder.sort(sorted, (i, j) -> Double.compare(end(i, d, -1), end(j, d, -1)));
    List<int[]> pieces = new ArrayList<>();
    double reach = Double.NEGATIVE_INFINITY;
    int start = 0;
    for (int k = 0; k < sorted.length; k++) {
      if (k > start && end(sorted[k], d, -1) - reach > points.outerWidth[d]) {
        pieces.add(Arrays.copyOfRange(sorted, start, k));
        start = k;
      }
      reach = Math.max(reach, end(sorted[k], d, 1));
    }
    pieces.add(Arrays.copyOfRange(sorted, start, sorted.length));
    return pieces;
  }

  /** The least (side −1) or greatest (side 1) coordinate at which a candidate can stand. */
  private double end(int candidate, int d, int side) {
    // Points go from the least cut to the greatest, so an end is at one end of the list
    double uncut = points.x[points.first[candidate] * model.dims + d];
    double most = points.x[(points.first[candidate + 1] - 1) * model.dims + d];
    return side < 0 ? Math.min(uncut, most) : Math.max(uncut, most);
  }

  /**
   * A bound on the sets of a part: as many as its candidates allow, and without cuts as many as any
   * one dimension allows by itself, since a set of the whole is a set in each dimension.
   */
  int bound(int[] part) {
    int bound = part.length / model.groupSize;
    for (int d = 0; d < model.dims && !cuts.allowed(); d++) {
      double[] at = new double[part.length];
      for (int k = 0; k < part.length; k++) {
        at[k] = model.x[part[k] * model.dims + d];
      }
      Arrays.sort(at);
      bound =
          Math.min(bound, PoolLine.count(at, model.groupSize, model.width[d] + PoolModel.SLACK));
    }
    work.spend((long) part.length * model.dims);
    return bound;
  }
}
