package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/**
 * Builds as many sets as it can from candidates at given points, with a bound: leaves out what no
 * set can hold, searches small parts exactly, and builds the rest from the outside inwards.
 */
final class PoolBuilder {

  private final PoolModel model;
  private final PoolCuts cuts;
  private final PoolPoints points;
  private final Work work;

  /** The sets found, as candidates. */
  final List<int[]> sets = new ArrayList<>();

  /** No choice of sets with members at any cuts is larger. */
  private int bound;

  /** What an exact search found in a part before its work was exhausted. */
  private record Attempt(int[] part, List<int[]> found) {

    boolean holds(int[] set) {
      return Arrays.binarySearch(part, set[0]) >= 0;
    }
  }

  PoolBuilder(PoolModel model, PoolCuts cuts, PoolPoints points, Work work) {
    this.model = model;
    this.cuts = cuts;
    this.points = points;
    this.work = work;
  }

  int bound() {
    return bound;
  }

  void run() {
    PoolTree tree = new PoolTree(points, model.width);
    new PoolPrune(model, points, tree, work.share(0.3)).run();
    PoolParts parts = new PoolParts(model, cuts, points, tree, work);
    List<Attempt> attempts = new ArrayList<>();
    for (int[] part : parts.find()) {
      int partBound = parts.bound(part);
      if (part.length <= PoolExact.MOST_CANDIDATES) {
        Work share = work.share(0.5);
        PoolExact exact = new PoolExact(model, cuts, part, partBound, share);
        List<int[]> found = exact.run();
        if (found.size() == partBound || !share.exhausted() && !cuts.doubtful()) {
          bound += found.size();
          sets.addAll(found);
          for (int i : part) {
            remove(tree, i);
          }
          continue;
        }
        attempts.add(new Attempt(part, found));
      }
      bound += partBound;
    }
    build(tree, bound - sets.size());
    attempts.forEach(this::improve);
  }

  private void remove(PoolTree tree, int candidate) {
    for (int p = points.first[candidate]; p < points.first[candidate + 1]; p++) {
      tree.remove(p);
    }
  }

  private void build(PoolTree tree, int target) {
    if (tree.size() < model.groupSize) {
      return;
    }
    PoolHardness hardness = PoolHardness.of(model, points, tree, work);
    PoolSets building = new PoolSets(model, points, tree);
    PoolBox box = new PoolBox(points, tree, model.width, model.groupSize);
    new PoolPeel(building, hardness, box, work).run(hardness.weights(0.5));
    Work share = work.share(0.6);
    PoolPeel again = new PoolPeel(building, hardness, box, share);
    new PoolRepack(building, hardness, again, share).run(target);
    for (int s = 0; s < building.size(); s++) {
      int[] set = IntStream.of(building.get(s)).map(p -> points.owner[p]).toArray();
      // Only where cuts creep towards their limit is there a set that can't be settled
      if (!cuts.allowed() || cuts.settle(set, set.length, new double[set.length])) {
        sets.add(set);
      }
    }
  }

  private void improve(Attempt attempt) {
    if (sets.stream().filter(attempt::holds).count() < attempt.found.size()) {
      sets.removeIf(attempt::holds);
      sets.addAll(attempt.found);
    }
  }
}
