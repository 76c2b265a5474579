package org.equiphase.matching;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.jspecify.annotations.Nullable;

/** Refuses problems that can't be posed, naming the field. */
final class ProblemCheck {

  /** Beyond any cable worth matching; keeps the arithmetic within 1e-9 degrees. */
  static final double LONGEST_MM = 100_000;

  private ProblemCheck() {}

  static void check(
      @Nullable Basis basis,
      @Nullable String masterSerial,
      @Nullable Turns turns,
      double aimFraction,
      List<FrequencyLimit> frequencies,
      List<Member> assemblies) {
    present("basis", basis);
    present("turns", turns);
    if (!(aimFraction > 0 && aimFraction <= 1)) {
      throw refuse("aimFraction", "must be above 0 and at most 1, not " + aimFraction);
    }
    if (frequencies.isEmpty()) {
      throw refuse("frequencies", "must hold at least one frequency");
    }
    for (int k = 0; k < frequencies.size(); k++) {
      frequency("frequencies[" + k + "]", frequencies.get(k), turns == Turns.MODULO_360);
    }
    if (assemblies.isEmpty()) {
      throw refuse("assemblies", "must hold at least one assembly");
    }
    Set<String> serials = new HashSet<>();
    for (int i = 0; i < assemblies.size(); i++) {
      String field = "assemblies[" + i + "]";
      Member member = assemblies.get(i);
      member(field, member, frequencies.size());
      if (!serials.add(member.serial())) {
        throw refuse(field + ".serial", "is used twice: " + member.serial());
      }
    }
    if (basis == Basis.MASTER) {
      present("masterSerial", masterSerial);
      if (!serials.contains(masterSerial)) {
        throw refuse("masterSerial", "is not among the assemblies: " + masterSerial);
      }
    }
  }

  private static void frequency(String field, FrequencyLimit limit, boolean modulo) {
    present(field, limit);
    between(field + ".frequencyHz", limit.frequencyHz(), 1, 1e12);
    double tolerance = limit.toleranceDeg();
    if (!(tolerance > 0 && tolerance < Double.POSITIVE_INFINITY)) {
      throw refuse(field + ".toleranceDeg", "must be a number above 0, not " + tolerance);
    }
    if (modulo && tolerance > 180) {
      throw refuse(
          field + ".toleranceDeg", "must be at most 180 where turns don't count, not " + tolerance);
    }
    between(field + ".guardDeg", limit.guardDeg(), 0, tolerance);
  }

  private static void member(String field, Member member, int frequencies) {
    present(field, member);
    String serial = member.serial();
    present(field + ".serial", serial);
    if (serial.isBlank()) {
      throw refuse(field + ".serial", "must not be blank");
    }
    double velocityFactor = member.velocityFactor();
    if (!(velocityFactor > 0 && velocityFactor <= 1)) {
      throw refuse(
          field + ".velocityFactor", "must be above 0 and at most 1, not " + velocityFactor);
    }
    List<Double> errors = member.phaseErrorDeg();
    if (errors.size() != frequencies) {
      throw refuse(
          field + ".phaseErrorDeg",
          "must hold one value per frequency: " + frequencies + ", not " + errors.size());
    }
    for (int k = 0; k < frequencies; k++) {
      Double error = errors.get(k);
      if (error == null || !Double.isFinite(error)) {
        throw refuse(field + ".phaseErrorDeg[" + k + "]", "must be a finite number, not " + error);
      }
    }
    between(field + ".trimAllowanceMm", member.trimAllowanceMm(), 0, LONGEST_MM);
    StretchRange stretcher = member.stretcher();
    if (stretcher != null) {
      between(field + ".stretcher.minMm", stretcher.minMm(), -LONGEST_MM, LONGEST_MM);
      between(field + ".stretcher.maxMm", stretcher.maxMm(), stretcher.minMm(), LONGEST_MM);
    }
  }

  static void present(String field, @Nullable Object value) {
    if (value == null) {
      throw refuse(field, "is missing");
    }
  }

  static void between(String field, double value, double least, double greatest) {
    if (!(value >= least && value <= greatest)) {
      throw refuse(field, "must be from " + least + " to " + greatest + ", not " + value);
    }
  }

  static InvalidProblemException refuse(String field, String message) {
    return new InvalidProblemException(field, message);
  }
}
