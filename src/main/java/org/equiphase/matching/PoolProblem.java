package org.equiphase.matching;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The pool problem: as many disjoint matched sets as possible out of a pool of assemblies.
 *
 * <p>A set is {@code setSize + spares} candidates whose phase errors differ by at most twice the
 * tolerance at every frequency, and whose insertion losses differ by at most the loss spread where
 * one is given. Limits are inclusive, to within 1e-9 degrees or decibels.
 *
 * @param setSize assemblies in use in a set, from 2
 * @param spares further assemblies kept with each set and within its window, from 0
 * @param limits at least one, one for each frequency
 * @param candidates the pool, with serial numbers that differ; may be empty
 */
public record PoolProblem(
    int setSize, int spares, List<PoolLimit> limits, List<Candidate> candidates) {

  /**
   * @throws InvalidProblemException if a field is missing, not finite or out of range; fields are
   *     named as in the calculation API, with {@code frequencies} for the limits and {@code
   *     assemblies} for the candidates
   */
  public PoolProblem {
    limits = SetProblem.copy(limits);
    candidates = SetProblem.copy(candidates);
    PoolCheck.check(setSize, spares, limits, candidates);
  }

  /**
   * What the members of a set must agree in at one frequency.
   *
   * @param frequencyHz above 0, at most 1 THz
   * @param toleranceDeg allowed distance from the set's centre, above 0
   * @param lossSpreadDb greatest difference in insertion loss between two members, above 0; null
   *     for no limit
   */
  public record PoolLimit(double frequencyHz, double toleranceDeg, @Nullable Double lossSpreadDb) {}

  /**
   * An assembly of the pool.
   *
   * @param serial its serial number
   * @param phaseErrorDeg phase error at each frequency, any finite number; only differences count
   * @param insertionLossDb insertion loss at each frequency; needed where the loss is limited at
   *     any frequency, otherwise null will do
   * @param cut how it may be cut to join a set; null for not at all
   */
  public record Candidate(
      String serial,
      List<Double> phaseErrorDeg,
      @Nullable List<Double> insertionLossDb,
      @Nullable Cut cut) {

    public Candidate {
      phaseErrorDeg = SetProblem.copy(phaseErrorDeg);
      insertionLossDb = insertionLossDb == null ? null : SetProblem.copy(insertionLossDb);
    }

    /** A candidate that must not be cut and whose loss is not known. */
    public static Candidate of(String serial, List<Double> phaseErrorDeg) {
      return new Candidate(serial, phaseErrorDeg, null, null);
    }
  }

  /**
   * How a candidate may be cut: a trim of a millimetres moves its phase error by +360·f·a/(v·c)
   * degrees and lowers its loss by a/1000 times the loss per metre.
   *
   * @param velocityFactor velocity factor v of its cable, above 0 and at most 1
   * @param trimAllowanceMm the most that may be cut off, physical length, from 0 to 100 000 mm
   * @param lossDbPerM loss of its cable at each frequency, from 0 dB/m; needed where the loss is
   *     limited at any frequency, otherwise null will do
   */
  public record Cut(
      double velocityFactor, double trimAllowanceMm, @Nullable List<Double> lossDbPerM) {

    public Cut {
      lossDbPerM = lossDbPerM == null ? null : SetProblem.copy(lossDbPerM);
    }
  }

  /** Candidates that a set takes out of the pool. */
  int groupSize() {
    return setSize + spares;
  }

  /** Whether the loss is limited at any frequency. */
  boolean limitsLoss() {
    return limits.stream().anyMatch(limit -> limit.lossSpreadDb() != null);
  }
}
