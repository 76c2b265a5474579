package org.equiphase.matching;

import java.util.Arrays;

/** What each member needs for one choice of the centre. */
final class Trial implements Comparable<Trial> {

  /** Lengths closer than this count as equal. */
  private static final double SAME_MM = 1e-9;

  final double[] centerDeg;
  final Action[] action;

  /** Shortening of each member (mm of air). */
  final double[] airMm;

  int replaced;
  int adjusted;
  double trimMm;
  double stretchMm;

  Trial(double[] centerDeg, int members) {
    this.centerDeg = centerDeg;
    action = new Action[members];
    Arrays.fill(action, Action.NONE);
    airMm = new double[members];
  }

  /** Order of importance of the counts in one number. */
  static long rank(long replaced, long adjusted, int members) {
    return replaced * (members + 1L) + adjusted;
  }

  long rank() {
    return rank(replaced, adjusted, action.length);
  }

  /** Whether these lengths can't do better than this trial's, its counts being equal. */
  boolean beatsLengths(double otherTrimMm, double otherStretchMm) {
    return otherTrimMm > trimMm + SAME_MM
        || (otherTrimMm > trimMm - SAME_MM && otherStretchMm > stretchMm + SAME_MM);
  }

  /** Nothing to adjust or replace: no other trial can be better. */
  boolean isPerfect() {
    return replaced == 0 && adjusted == 0;
  }

  /** The better trial is the smaller; ties fall to the smallest serial numbers. */
  @Override
  public int compareTo(Trial other) {
    if (rank() != other.rank()) {
      return Long.compare(rank(), other.rank());
    }
    if (other.beatsLengths(trimMm, stretchMm)) {
      return 1;
    }
    if (beatsLengths(other.trimMm, other.stretchMm)) {
      return -1;
    }
    for (Action wanted : new Action[] {Action.REPLACE, null}) {
      for (int i = 0; i < action.length; i++) {
        boolean here = wanted == null ? action[i] != Action.NONE : action[i] == wanted;
        boolean there = wanted == null ? other.action[i] != Action.NONE : other.action[i] == wanted;
        if (here != there) {
          return here ? -1 : 1;
        }
      }
    }
    return 0;
  }
}
