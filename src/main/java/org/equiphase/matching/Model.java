package org.equiphase.matching;

import static org.equiphase.rf.PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;

/**
 * The problem in plain arrays. Members are in the order of their serial numbers, so that nothing
 * depends on the order of the input. Adjustments are lengths of air in millimetres, positive when
 * they shorten the member: trim / velocity factor, or stretch with its sign turned.
 */
final class Model {

  /** Speed of light (m/s), exact by the definition of the metre. */

  /** Limits are inclusive to within this (degrees). */
  static final double SLACK_DEG = 1e-9;

  /** The search stays inside the slack by a margin above its own rounding. */
  static final double SEARCH_SLACK_DEG = 0.9e-9;

  final int members;
  final int frequencies;
  final boolean modulo;
  final boolean free;

  /** Index of the master, or −1. */
  final int master;

  final String[] serial;
  final int[] inputIndex;
  final double[] frequencyHz;

  /** Phase per millimetre of air (degrees). */
  final double[] degPerMm;

  final double[] acceptDeg;
  final double[] aimDeg;

  /** What was taken off every error: the master's, or in a free set a middle member's. */
  final double[] baseDeg;

  /** Errors less the base; wrapped where turns don't count. */
  final double[][] errorDeg;

  final double[] velocityFactor;
  final double[] trimMaxAirMm;

  /** What the stretcher can do; an empty range (low above high) without one. */
  final double[] stretchLowAirMm;

  final double[] stretchHighAirMm;

  /**
   * Air lengths closer than this are taken as equal: 1e-10 degrees at the highest frequency, and
   * more than the rounding of the longest length.
   */
  final double epsilonMm;

  Model(SetProblem problem) {
    List<Member> given = problem.assemblies();
    members = given.size();
    frequencies = problem.frequencies().size();
    modulo = problem.turns() == Turns.MODULO_360;
    free = problem.basis() == Basis.SET;

    frequencyHz = new double[frequencies];
    degPerMm = new double[frequencies];
    acceptDeg = new double[frequencies];
    aimDeg = new double[frequencies];
    for (int k = 0; k < frequencies; k++) {
      FrequencyLimit limit = problem.frequencies().get(k);
      frequencyHz[k] = limit.frequencyHz();
      degPerMm[k] = 360 * limit.frequencyHz() / SPEED_OF_LIGHT_M_PER_S / 1000;
      acceptDeg[k] = limit.acceptanceDeg();
      aimDeg[k] = problem.aimFraction() * limit.acceptanceDeg();
    }
    Integer[] order = new Integer[members];
    Arrays.setAll(order, i -> i);
    Arrays.sort(order, Comparator.comparing(i -> given.get(i).serial()));
    inputIndex = Arrays.stream(order).mapToInt(Integer::intValue).toArray();
    serial = new String[members];
    Arrays.setAll(serial, i -> given.get(inputIndex[i]).serial());
    master =
        problem.basis() == Basis.MASTER
            ? Arrays.asList(serial).indexOf(problem.masterSerial())
            : -1;

    baseDeg = new double[frequencies];
    if (free || master >= 0) {
      int base = free ? middle(given, order) : inputIndex[master];
      Arrays.setAll(baseDeg, given.get(base).phaseErrorDeg()::get);
    }
    errorDeg = new double[members][frequencies];
    velocityFactor = new double[members];
    trimMaxAirMm = new double[members];
    stretchLowAirMm = new double[members];
    stretchHighAirMm = new double[members];
    for (int i = 0; i < members; i++) {
      Member member = given.get(inputIndex[i]);
      for (int k = 0; k < frequencies; k++) {
        double error = member.phaseErrorDeg().get(k) - baseDeg[k];
        // An error of no finite length can come only from values at the edge of what a double holds
        if (!(Math.abs(error / degPerMm[k]) < 1e300)) {
          throw ProblemCheck.refuse(
              "assemblies[" + inputIndex[i] + "].phaseErrorDeg[" + k + "]",
              "is too far from the centre to be a phase error: " + error);
        }
        errorDeg[i][k] = modulo ? wrap(error) : error;
      }
      velocityFactor[i] = member.velocityFactor();
      trimMaxAirMm[i] = member.trimAllowanceMm() / member.velocityFactor();
      StretchRange stretcher = member.stretcher();
      stretchLowAirMm[i] = stretcher == null ? 1 : -stretcher.maxMm();
      stretchHighAirMm[i] = stretcher == null ? 0 : -stretcher.minMm();
    }
    epsilonMm = 1e-10 / Arrays.stream(degPerMm).max().orElseThrow() + 16 * Math.ulp(longestMm());
  }

  /** A member in the middle at the first frequency: the lengths left are small, and exact. */
  private static int middle(List<Member> given, Integer[] order) {
    Integer[] byError = order.clone();
    Arrays.sort(byError, Comparator.comparing(i -> given.get(i).phaseErrorDeg().get(0)));
    return byError[byError.length / 2];
  }

  private double longestMm() {
    double longest = 0;
    for (int i = 0; i < members; i++) {
      longest = Math.max(longest, trimMaxAirMm[i]);
      longest = Math.max(longest, Math.max(-stretchLowAirMm[i], stretchHighAirMm[i]));
      for (int k = 0; k < frequencies; k++) {
        longest = Math.max(longest, Math.abs(errorDeg[i][k]) / degPerMm[k]);
      }
    }
    return longest;
  }

  boolean hasStretcher(int member) {
    return stretchLowAirMm[member] <= stretchHighAirMm[member];
  }

  /** Degrees from −180 (exclusive) to 180. */
  static double wrap(double deg) {
    double wrapped = Math.IEEEremainder(deg, 360);
    return wrapped == -180 ? 180 : wrapped;
  }

  double wrapIfModulo(double deg) {
    return modulo ? wrap(deg) : deg;
  }

  /** Error of a member from the centre after shortening it by a length of air (degrees). */
  double residualDeg(int member, int k, double airMm, double centerDeg) {
    return wrapIfModulo(errorDeg[member][k] + degPerMm[k] * airMm - centerDeg);
  }

  /** Physical length cut off, for a shortening in air. */
  double trimMm(int member, double airMm) {
    return airMm * velocityFactor[member];
  }
}
