package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Looks for more sets: takes a few neighbouring sets apart around a free candidate and builds them
 * again in another order, together with what is free there. An attempt stays if it gives more sets,
 * or as many with harder candidates in them. The random numbers start from a fixed seed.
 */
final class PoolRepack {

  private static final int MOST_SETS = 6;
  private static final double[] POWERS = {0, 0.5, 1};

  private final PoolSets sets;
  private final PoolPoints points;
  private final PoolHardness hardness;
  private final PoolPeel peel;
  private final Work work;
  private final double[][] weights;
  private final double[] value;
  private final SplittableRandom random = new SplittableRandom(1);

  PoolRepack(PoolSets sets, PoolHardness hardness, PoolPeel peel, Work work) {
    this.sets = sets;
    this.hardness = hardness;
    this.peel = peel;
    this.work = work;
    points = sets.points;
    weights = Arrays.stream(POWERS).mapToObj(hardness::weights).toArray(double[][]::new);
    value = hardness.weights(1);
  }

  /** Goes on until there are {@code target} sets, or the work is exhausted. */
  void run(int target) {
    int groupSize = sets.model.groupSize;
    while (sets.size() < target && !work.exhausted()) {
      int[] free = free();
      if (free.length < groupSize) {
        return;
      }
      // The list of the free goes stale as sets change; it is made anew after each round
      for (int k = 0; k < free.length && sets.size() < target && !work.exhausted(); k++) {
        int i = free[random.nextInt(free.length)];
        if (sets.isFree(i)) {
          attempt(i);
        }
      }
    }
  }

  private int[] free() {
    work.spend(sets.model.candidates);
    return Arrays.stream(hardness.order()).filter(sets::isFree).toArray();
  }

  private void attempt(int center) {
    List<Integer> near = nearSets(points.first[center]);
    int most = 1 + random.nextInt(MOST_SETS);
    List<int[]> old = new ArrayList<>();
    List<Integer> numbers = new ArrayList<>();
    while (numbers.size() < most && !near.isEmpty()) {
      numbers.add(near.remove(random.nextInt(near.size())));
    }
    // From the highest number down, as each removal moves only the last set
    numbers.sort((a, b) -> b - a);
    for (int s : numbers) {
      old.add(sets.remove(s));
    }
    int before = sets.size();
    rebuild(center, old);
    int built = sets.size() - before;
    List<int[]> fresh = new ArrayList<>();
    for (int s = before; s < sets.size(); s++) {
      fresh.add(sets.get(s));
    }
    if (built < old.size() || built == old.size() && total(fresh) < total(old)) {
      while (sets.size() > before) {
        sets.remove(sets.size() - 1);
      }
      old.forEach(sets::add);
    }
  }

  private void rebuild(int center, List<int[]> old) {
    double[] weight = weights[random.nextInt(weights.length)];
    List<Integer> members = new ArrayList<>();
    members.add(center);
    for (int[] set : old) {
      for (int p : set) {
        members.add(points.owner[p]);
      }
    }
    int[] order = members.stream().mapToInt(i -> i).toArray();
    double[] key = new double[order.length];
    for (int k = 0; k < key.length; k++) {
      key[k] = hardness.mates()[order[k]] * (0.6 + 0.8 * random.nextDouble());
    }
    for (int k : PoolOrder.sorted(order.length, (a, b) -> Double.compare(key[a], key[b]))) {
      if (sets.isFree(order[k])) {
        peel.place(order[k], weight);
      }
    }
  }

  private double total(List<int[]> among) {
    double total = 0;
    for (int[] set : among) {
      for (int p : set) {
        total += value[points.owner[p]];
      }
    }
    return total;
  }

  private List<Integer> nearSets(int p) {
    List<Integer> near = new ArrayList<>();
    work.spend(sets.size());
    for (int s = 0; s < sets.size(); s++) {
      int[] set = sets.get(s);
      if (sets.near(p, set[0]) || sets.near(p, set[set.length - 1])) {
        near.add(s);
      }
    }
    return near;
  }
}
