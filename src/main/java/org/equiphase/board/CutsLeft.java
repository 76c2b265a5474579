package org.equiphase.board;

import org.equiphase.process.CutHistory.Taken;

/**
 * How many cuts are still to be made, as earlier assemblies of the same cable went.
 *
 * <p>An assembly not read yet takes as many cuts as decided ones took on average; one that is to be
 * cut as many as those that were cut at all, and at least the one; one that was cut and is to be
 * measured again one less than that. The sum of N future values with a mean estimated from n
 * earlier ones varies by N·s² + N²·s²/n (as in any text on prediction intervals, for N = 1 s²·(1 +
 * 1/n)); the range is twice its square root.
 *
 * @param expected number of cuts
 * @param plusMinus half of the range in which their number will be, about 95 % of the time
 * @param decided assemblies that it rests on
 * @param ofLot whether these are of the same lot; of the cable type otherwise
 */
public record CutsLeft(double expected, double plusMinus, int decided, boolean ofLot) {

  /** With fewer decided assemblies nothing is forecast. */
  static final int LEAST_DECIDED = 5;

  /** How many assemblies wait for what. */
  record Work(int unread, int toCut, int cut) {

    static final Work NONE = new Work(0, 0, 0);

    Work plus(Work other) {
      return new Work(unread + other.unread, toCut + other.toCut, cut + other.cut);
    }
  }

  static CutsLeft of(Work work, Taken taken, boolean ofLot) {
    double ofCut = taken.meanOfCut();
    double expected =
        work.unread * taken.mean()
            + work.toCut * Math.max(1, ofCut)
            + work.cut * Math.max(0, ofCut - 1);
    double variance =
        sumVariance(work.unread, taken.variance(), taken.decided())
            + sumVariance(work.toCut + work.cut, taken.varianceOfCut(), Math.max(1, taken.cut()));
    return new CutsLeft(expected, 2 * Math.sqrt(variance), taken.decided(), ofLot);
  }

  private static double sumVariance(int count, double variance, int from) {
    return count * variance + (double) count * count * variance / from;
  }

  /** Both together, as if they went independently. */
  CutsLeft plus(CutsLeft other) {
    return new CutsLeft(
        expected + other.expected,
        Math.hypot(plusMinus, other.plusMinus),
        decided + other.decided,
        ofLot && other.ofLot);
  }
}
