package org.equiphase.matching;

/**
 * The least cuts that bring a group into the window.
 *
 * <p>Every condition of a group has the form x_i + g_i·a_i − x_j − g_j·a_j ≤ width with both gains
 * of one sign, so the member-by-member lesser of two solutions is a solution too. The least of all
 * is reached from no cuts at all by cutting, again and again, each member that lies too far from
 * the others by just what is missing. It has at once the fewest cuts and the least trim.
 */
final class PoolCuts {

  /**
   * Losses with unlike cables may creep towards their limit without end; such groups are refused.
   */
  private static final int MOST_ROUNDS = 200;

  private final PoolModel model;
  private final double[] gain;
  private final double[] allowanceMm;
  private final boolean allowed;
  private boolean doubtful;
  private long steps;

  private PoolCuts(PoolModel model, boolean allowed) {
    this.model = model;
    this.allowed = allowed;
    gain = new double[model.candidates * model.dims];
    allowanceMm = new double[model.candidates];
    for (int i = 0; i < model.candidates && allowed; i++) {
      allowanceMm[i] = model.allowanceMm(i);
      for (int d = 0; d < model.dims; d++) {
        gain[i * model.dims + d] = model.gainPerMm(i, d);
      }
    }
  }

  /** The cuts that the problem allows. */
  static PoolCuts of(PoolModel model) {
    return new PoolCuts(model, model.cuts);
  }

  /** No cuts, whatever the problem allows. */
  static PoolCuts none(PoolModel model) {
    return new PoolCuts(model, false);
  }

  /** Whether any candidate may be cut. */
  boolean allowed() {
    return allowed;
  }

  /** Whether a group was refused without proof that it can't be cut into the window. */
  boolean doubtful() {
    return doubtful;
  }

  /** Steps done since the last call, for the work limit. */
  long takeSteps() {
    long taken = steps;
    steps = 0;
    return taken;
  }

  /** Coordinate of a candidate after a cut. */
  double coordinate(int i, int d, double trimMm) {
    return model.x[i * model.dims + d] + gain[i * model.dims + d] * trimMm;
  }

  double allowanceMm(int i) {
    return allowanceMm[i];
  }

  double gain(int i, int d) {
    return gain[i * model.dims + d];
  }

  /**
   * Finds the least cuts.
   *
   * @param members the group's candidates, in its first {@code size} elements
   * @param trimMm receives the cut of each member
   * @return whether the group can be brought into the window
   */
  boolean settle(int[] members, int size, double[] trimMm) {
    java.util.Arrays.fill(trimMm, 0, size, 0);
    for (int round = 0; round < MOST_ROUNDS; round++) {
      boolean moved = false;
      steps += (long) size * model.dims;
      for (int d = 0; d < model.dims; d++) {
        int step = settle(members, size, trimMm, d);
        if (step < 0) {
          return false;
        }
        moved |= step > 0;
      }
      if (!moved) {
        return true;
      }
    }
    doubtful = true;
    return false;
  }

  /** One round in one dimension: −1 if it can't be done, 1 if a cut grew, 0 if none had to. */
  private int settle(int[] members, int size, double[] trimMm, int d) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int j = 0; j < size; j++) {
      double at = coordinate(members[j], d, trimMm[j]);
      low = Math.min(low, at);
      high = Math.max(high, at);
    }
    int result = 0;
    for (int j = 0; j < size && high - low > model.width[d] + PoolModel.SLACK; j++) {
      int i = members[j];
      // A cut raises phase and lowers loss: the low phases and the high losses must move
      double at = coordinate(i, d, trimMm[j]);
      double missing = (model.isPhase(d) ? high - at : at - low) - model.width[d];
      if (missing <= PoolModel.SLACK) {
        continue;
      }
      double more = missing / Math.abs(gain[i * model.dims + d]);
      double least = (missing - PoolModel.SLACK) / Math.abs(gain[i * model.dims + d]);
      if (!(trimMm[j] + least <= allowanceMm[i])) {
        return -1;
      }
      trimMm[j] = Math.min(trimMm[j] + more, allowanceMm[i]);
      result = 1;
    }
    return result;
  }
}
