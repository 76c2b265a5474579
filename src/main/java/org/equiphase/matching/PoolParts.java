package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Splits the pool into parts that share no set: chains of candidates of which each is within a
 * window of the next. What bounds the parts bounds the pool by its sum.
 */
final class PoolParts {

  private final PoolModel model;
  private final PoolCuts cuts;
  private final PoolPoints points;
  private final PoolTree tree;
  private final Work work;
  private final int[] found = new int[4_096];

  PoolParts(PoolModel model, PoolCuts cuts, PoolPoints points, PoolTree tree, Work work) {
    this.model = model;
    this.cuts = cuts;
    this.points = points;
    this.tree = tree;
    this.work = work;
  }

  /** The parts with enough candidates for a set, each in ascending order. */
  List<int[]> find() {
    List<int[]> parts = new ArrayList<>();
    List<int[]> all = new ArrayList<>();
    for (int i = 0; i < model.candidates; i++) {
      if (tree.contains(points.first[i])) {
        int[] part = flood(i);
        all.add(part);
        if (part.length >= model.groupSize) {
          parts.add(part);
        }
      }
    }
    all.forEach(part -> setPresent(part, true));
    work.spend(tree.takeLooks());
    return parts;
  }

  /** Takes the part of a candidate out of the tree. */
  private int[] flood(int candidate) {
    int[] part = new int[16];
    int size = 0;
    part[size++] = candidate;
    setPresent(candidate, false);
    double[] lower = new double[model.dims];
    double[] upper = new double[model.dims];
    for (int next = 0; next < size; next++) {
      int i = part[next];
      for (int p = points.first[i]; p < points.first[i + 1]; p++) {
        for (int d = 0; d < model.dims; d++) {
          lower[d] = points.x[p * model.dims + d] - points.outerWidth[d];
          upper[d] = points.x[p * model.dims + d] + points.outerWidth[d];
        }
        int count = found.length;
        while (count == found.length) {
          count = tree.collect(lower, upper, found, found.length);
          for (int k = 0; k < count; k++) {
            if (tree.contains(found[k])) {
              part = size == part.length ? Arrays.copyOf(part, 2 * size) : part;
              part[size++] = points.owner[found[k]];
              setPresent(points.owner[found[k]], false);
            }
          }
        }
      }
    }
    part = Arrays.copyOf(part, size);
    Arrays.sort(part);
    return part;
  }

  private void setPresent(int candidate, boolean present) {
    setPresent(new int[] {candidate}, present);
  }

  private void setPresent(int[] candidates, boolean present) {
    for (int i : candidates) {
      for (int p = points.first[i]; p < points.first[i + 1]; p++) {
        if (present) {
          tree.restore(p);
        } else {
          tree.remove(p);
        }
      }
    }
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
