package org.equiphase.matching;

import java.util.Arrays;

/**
 * A bound on the counts from one frequency at a time: how many members can at most be left
 * untouched, and how many kept, at one and the same value of the centre there.
 */
final class Sweep {

  private final Model model;
  private final int size;
  private final int directions;

  /** Ends of each open member's range of centres, by frequency: with any option, and untouched. */
  private final double[][] keptLow;

  private final double[][] keptHigh;
  private final double[][] untouchedLow;
  private final double[][] untouchedHigh;
  private int kept;
  private int untouched;

  Sweep(Model model) {
    this.model = model;
    size = model.frequencies + 1;
    directions = size * (size - 1) / 2;
    keptLow = new double[directions][model.members];
    keptHigh = new double[directions][model.members];
    untouchedLow = new double[directions][model.members];
    untouchedHigh = new double[directions][model.members];
  }

  void clear() {
    kept = 0;
    untouched = 0;
  }

  /** Begins with the next open member. */
  void begin() {
    for (int c = 0; c < directions; c++) {
      keptLow[c][kept] = Double.POSITIVE_INFINITY;
      keptHigh[c][kept] = Double.NEGATIVE_INFINITY;
      untouchedLow[c][untouched] = Double.POSITIVE_INFINITY;
      untouchedHigh[c][untouched] = Double.NEGATIVE_INFINITY;
    }
  }

  /** Takes in an option of the member, as measured in the zone. */
  void include(Zone zone, Zone.Fit fit, boolean isUntouched) {
    int c = 0;
    for (int a = 1; a < size; a++) {
      for (int b = 0; b < a; b++) {
        double high = Math.min(zone.bound(a, b), fit.above[a] + fit.below[b]) + model.epsilonMm;
        double low = -Math.min(zone.bound(b, a), fit.above[b] + fit.below[a]) - model.epsilonMm;
        keptLow[c][kept] = Math.min(keptLow[c][kept], low);
        keptHigh[c][kept] = Math.max(keptHigh[c][kept], high);
        if (isUntouched) {
          untouchedLow[c][untouched] = Math.min(untouchedLow[c][untouched], low);
          untouchedHigh[c][untouched] = Math.max(untouchedHigh[c][untouched], high);
        }
        c++;
      }
    }
  }

  /** Ends the member; {@code canBeUntouched} if an option leaves it untouched. */
  void end(boolean canBeUntouched) {
    kept++;
    if (canBeUntouched) {
      untouched++;
    }
  }

  /** Least rank over the zone, given the sum of what each member needs on its own. */
  long leastRank(long sum) {
    long saving = Trial.rank(1, 0, model.members) - 1;
    long most = kept * saving + untouched;
    long greatestLoss = 0;
    for (int c = 0; c < directions; c++) {
      greatestLoss = Math.max(greatestLoss, most - mostSaved(c, saving));
    }
    return sum + greatestLoss;
  }

  private long mostSaved(int c, long saving) {
    Arrays.sort(keptLow[c], 0, kept);
    Arrays.sort(keptHigh[c], 0, kept);
    Arrays.sort(untouchedLow[c], 0, untouched);
    Arrays.sort(untouchedHigh[c], 0, untouched);
    long most = 0;
    int keptBegun = 0;
    int keptEnded = 0;
    int begun = 0;
    int ended = 0;
    while (keptBegun < kept || begun < untouched) {
      boolean isKept =
          begun == untouched
              || (keptBegun < kept && keptLow[c][keptBegun] <= untouchedLow[c][begun]);
      double at = isKept ? keptLow[c][keptBegun++] : untouchedLow[c][begun++];
      while (keptEnded < kept && keptHigh[c][keptEnded] < at) {
        keptEnded++;
      }
      while (ended < untouched && untouchedHigh[c][ended] < at) {
        ended++;
      }
      most = Math.max(most, (keptBegun - keptEnded) * saving + (begun - ended));
    }
    return most;
  }
}
