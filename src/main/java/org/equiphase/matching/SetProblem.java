package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The set adjustment problem: which members of a set to trim, stretch or replace so that all agree
 * in phase.
 *
 * <p>A member left as it is must lie within the acceptance limit {@code toleranceDeg − guardDeg} of
 * the centre at every frequency; an adjusted member within the aim limit, {@code aimFraction} times
 * the acceptance limit. Limits are inclusive, to within 1e-9 degrees.
 *
 * @param basis what the members are matched to
 * @param masterSerial serial number of the master; needed with {@link Basis#MASTER}, ignored
 *     otherwise
 * @param turns whether whole turns of phase count
 * @param aimFraction aim limit as a share of the acceptance limit, above 0 and at most 1
 * @param frequencies at least one
 * @param assemblies the members, at least one, with serial numbers that differ
 */
public record SetProblem(
    Basis basis,
    @Nullable String masterSerial,
    Turns turns,
    double aimFraction,
    List<FrequencyLimit> frequencies,
    List<Member> assemblies) {

  /**
   * @throws InvalidProblemException if a field is missing, not finite or out of range
   */
  public SetProblem {
    frequencies = copy(frequencies);
    assemblies = copy(assemblies);
    ProblemCheck.check(basis, masterSerial, turns, aimFraction, frequencies, assemblies);
  }

  /** A copy that, unlike {@link List#copyOf}, lets a missing element through to the check. */
  static <T> List<T> copy(@Nullable List<T> list) {
    return list == null ? List.of() : Collections.unmodifiableList(new ArrayList<>(list));
  }

  /**
   * A frequency at which the set must agree.
   *
   * @param frequencyHz 1 Hz to 1 THz
   * @param toleranceDeg allowed distance from the centre, above 0; at most 180 in {@link
   *     Turns#MODULO_360}
   * @param guardDeg strip inside the tolerance in which a member is not accepted, from 0 to the
   *     tolerance; where it takes the whole tolerance only zero error is accepted
   */
  public record FrequencyLimit(double frequencyHz, double toleranceDeg, double guardDeg) {

    /** Acceptance limit: the tolerance less the guard band (degrees). */
    public double acceptanceDeg() {
      return toleranceDeg - guardDeg;
    }
  }

  /**
   * One assembly of the set.
   *
   * @param serial its serial number
   * @param velocityFactor velocity factor of the cable that would be cut, above 0 and at most 1
   * @param phaseErrorDeg phase error at each frequency, any finite number; negative is too long
   * @param trimAllowanceMm the most that may be cut off, physical length, from 0 to 100 000 mm
   * @param stretcher what its line stretcher can still do, or null without one; a member is trimmed
   *     or stretched, never both
   */
  public record Member(
      String serial,
      double velocityFactor,
      List<Double> phaseErrorDeg,
      double trimAllowanceMm,
      @Nullable StretchRange stretcher) {

    public Member {
      phaseErrorDeg = copy(phaseErrorDeg);
    }
  }

  /**
   * How far a line stretcher can still move, as added electrical length relative to where it is
   * now.
   *
   * @param minMm least added electrical length, −100 000 to 100 000 mm; negative shortens
   * @param maxMm greatest added electrical length, from minMm to 100 000 mm
   */
  public record StretchRange(double minMm, double maxMm) {}
}
