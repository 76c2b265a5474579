package org.equiphase.matching;

import static org.equiphase.rf.PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;

import java.util.List;
import java.util.stream.IntStream;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;

/**
 * The pool in plain arrays: each candidate a point, with one dimension for each limit on phase or
 * loss. Candidates are in the order of their coordinates, then of their serial numbers, so that
 * nothing depends on the order of the input. Loss without a limit has no dimension.
 */
final class PoolModel {

  /** Limits are inclusive to within this (degrees, decibels). */
  static final double SLACK = 1e-9;

  final PoolProblem problem;
  final int candidates;
  final int groupSize;
  final int dims;

  /** Greatest allowed difference within a set, per dimension, slack left out. */
  final double[] width;

  /** Coordinate of candidate i in dimension d at [i·dims + d]. */
  final double[] x;

  /** Index in the problem of each candidate. */
  final int[] inputIndex;

  /** Whether any candidate may be cut. */
  final boolean cuts;

  private final int frequencies;
  private final int[] frequencyOfDim;

  PoolModel(PoolProblem problem) {
    this.problem = problem;
    List<PoolLimit> limits = problem.limits();
    candidates = problem.candidates().size();
    groupSize = problem.groupSize();
    frequencies = limits.size();
    int[] lossLimited =
        IntStream.range(0, frequencies).filter(k -> limits.get(k).lossSpreadDb() != null).toArray();
    dims = frequencies + lossLimited.length;
    width = new double[dims];
    frequencyOfDim = new int[dims];
    for (int d = 0; d < dims; d++) {
      int k = d < frequencies ? d : lossLimited[d - frequencies];
      frequencyOfDim[d] = k;
      Double spreadDb = limits.get(k).lossSpreadDb();
      width[d] = d < frequencies || spreadDb == null ? 2 * limits.get(k).toleranceDeg() : spreadDb;
    }
    double[] given = new double[candidates * dims];
    boolean anyCut = false;
    for (int i = 0; i < candidates; i++) {
      Candidate candidate = problem.candidates().get(i);
      for (int d = 0; d < dims; d++) {
        given[i * dims + d] = coordinate(candidate, d);
      }
      anyCut |= candidate.cut() != null && candidate.cut().trimAllowanceMm() > 0;
    }
    cuts = anyCut;
    inputIndex = PoolOrder.sorted(candidates, (i, j) -> compare(given, i, j));
    x = new double[candidates * dims];
    for (int i = 0; i < candidates; i++) {
      System.arraycopy(given, inputIndex[i] * dims, x, i * dims, dims);
    }
  }

  private double coordinate(Candidate candidate, int d) {
    List<Double> loss = candidate.insertionLossDb();
    return d < frequencies || loss == null
        ? candidate.phaseErrorDeg().get(d)
        : loss.get(frequencyOfDim[d]);
  }

  private int compare(double[] given, int i, int j) {
    for (int d = 0; d < dims; d++) {
      int order = Double.compare(given[i * dims + d], given[j * dims + d]);
      if (order != 0) {
        return order;
      }
    }
    List<Candidate> pool = problem.candidates();
    return pool.get(i).serial().compareTo(pool.get(j).serial());
  }

  Candidate candidate(int i) {
    return problem.candidates().get(inputIndex[i]);
  }

  /** Whether a dimension is one of phase, not of loss. */
  boolean isPhase(int d) {
    return d < frequencies;
  }

  /** Greatest trim of a candidate (mm of cable). */
  double allowanceMm(int i) {
    Cut cut = candidate(i).cut();
    return cut == null ? 0 : cut.trimAllowanceMm();
  }

  /**
   * What a millimetre cut off candidate i adds to its coordinate in dimension d: above 0 for phase,
   * at most 0 for loss.
   */
  double gainPerMm(int i, int d) {
    Cut cut = candidate(i).cut();
    if (cut == null) {
      return 0;
    }
    int k = frequencyOfDim[d];
    if (d < frequencies) {
      double hz = problem.limits().get(k).frequencyHz();
      return 360 * hz / (cut.velocityFactor() * SPEED_OF_LIGHT_M_PER_S * 1000);
    }
    return cut.lossDbPerM() == null ? 0 : -cut.lossDbPerM().get(k) / 1000;
  }

  /** Insertion loss of a candidate after a cut; only where losses are limited. */
  double lossDb(int i, int k, double trimMm) {
    Candidate candidate = candidate(i);
    List<Double> lossDb = candidate.insertionLossDb();
    Cut cut = candidate.cut();
    double perMm = cut == null || cut.lossDbPerM() == null ? 0 : cut.lossDbPerM().get(k) / 1000;
    return lossDb == null ? 0 : lossDb.get(k) - perMm * trimMm;
  }
}
