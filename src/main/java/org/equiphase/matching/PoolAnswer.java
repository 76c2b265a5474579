package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;

/** Puts sets of candidates into words: serial numbers, cuts, spares and spreads. */
final class PoolAnswer {

  private final PoolModel model;
  private final PoolCuts cuts;

  PoolAnswer(PoolModel model, PoolCuts cuts) {
    this.model = model;
    this.cuts = cuts;
  }

  PoolSolution of(List<int[]> sets, int upperBound) {
    boolean[] used = new boolean[model.candidates];
    List<int[]> sorted = new ArrayList<>();
    for (int[] set : sets) {
      int[] members = set.clone();
      Arrays.sort(members);
      sorted.add(members);
      for (int i : members) {
        used[i] = true;
      }
    }
    sorted.sort((a, b) -> Integer.compare(a[0], b[0]));
    List<String> unused =
        IntStream.range(0, model.candidates)
            .filter(i -> !used[i])
            .mapToObj(i -> model.candidate(i).serial())
            .sorted()
            .toList();
    return new PoolSolution(
        sorted.stream().map(this::set).toList(), unused, upperBound, upperBound == sets.size());
  }

  private PoolSet set(int[] members) {
    int size = members.length;
    double[] trimMm = new double[size];
    if (cuts.allowed() && !cuts.settle(members, size, trimMm)) {
      throw new IllegalStateException("a set that was found to fit no longer does");
    }
    double[][] at = new double[model.dims][size];
    Map<String, Double> trims = new TreeMap<>();
    for (int j = 0; j < size; j++) {
      for (int d = 0; d < model.dims; d++) {
        at[d][j] = cuts.coordinate(members[j], d, trimMm[j]);
      }
      if (trimMm[j] > 0) {
        trims.put(model.candidate(members[j]).serial(), trimMm[j]);
      }
    }
    boolean[] spare = spares(at, size);
    List<String> serials = new ArrayList<>();
    List<String> spares = new ArrayList<>();
    for (int j = 0; j < size; j++) {
      (spare[j] ? spares : serials).add(model.candidate(members[j]).serial());
    }
    serials.sort(null);
    spares.sort(null);
    return new PoolSet(
        serials, spares, spreads(members, trimMm, true), spreads(members, trimMm, false), trims);
  }

  /** Takes out, one at a time, the member without which the largest share of a window is least. */
  private boolean[] spares(double[][] at, int size) {
    boolean[] spare = new boolean[size];
    for (int taken = 0; taken < model.problem.spares(); taken++) {
      int best = -1;
      double least = Double.POSITIVE_INFINITY;
      for (int j = 0; j < size; j++) {
        if (spare[j]) {
          continue;
        }
        spare[j] = true;
        double share = share(at, spare);
        spare[j] = false;
        if (share < least) {
          least = share;
          best = j;
        }
      }
      spare[best] = true;
    }
    return spare;
  }

  private double share(double[][] at, boolean[] without) {
    double share = 0;
    for (int d = 0; d < model.dims; d++) {
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (int j = 0; j < without.length; j++) {
        if (!without[j]) {
          low = Math.min(low, at[d][j]);
          high = Math.max(high, at[d][j]);
        }
      }
      share = Math.max(share, (high - low) / model.width[d]);
    }
    return share;
  }

  private List<Double> spreads(int[] members, double[] trimMm, boolean phase) {
    List<Double> spreads = new ArrayList<>();
    for (int k = 0; k < model.problem.limits().size(); k++) {
      if (!phase && !model.problem.limitsLoss()) {
        return List.of();
      }
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (int j = 0; j < members.length; j++) {
        double at =
            phase
                ? cuts.coordinate(members[j], k, trimMm[j])
                : model.lossDb(members[j], k, trimMm[j]);
        low = Math.min(low, at);
        high = Math.max(high, at);
      }
      spreads.add(high - low);
    }
    return spreads;
  }
}
