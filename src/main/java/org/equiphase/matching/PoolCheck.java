package org.equiphase.matching;

import static org.equiphase.matching.ProblemCheck.between;
import static org.equiphase.matching.ProblemCheck.refuse;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.jspecify.annotations.Nullable;

/** Refuses pools that can't be posed. Names of fields are put together only for a refusal. */
final class PoolCheck {

  /** Far above any set; keeps setSize + spares within an int. */
  private static final int MOST_MEMBERS = 1_000_000;

  private PoolCheck() {}

  static void check(int setSize, int spares, List<PoolLimit> limits, List<Candidate> candidates) {
    between("setSize", setSize, 2, MOST_MEMBERS);
    between("spares", spares, 0, MOST_MEMBERS);
    if (limits.isEmpty()) {
      throw refuse("frequencies", "must hold at least one frequency");
    }
    boolean loss = false;
    for (int k = 0; k < limits.size(); k++) {
      limit("frequencies[" + k + "]", limits.get(k));
      loss |= limits.get(k).lossSpreadDb() != null;
    }
    Set<String> serials = new HashSet<>(2 * candidates.size());
    for (int i = 0; i < candidates.size(); i++) {
      Candidate candidate = candidates.get(i);
      if (candidate == null) {
        throw refuse("assemblies[" + i + "]", "is missing");
      }
      candidate(i, candidate, limits.size(), loss);
      if (!serials.add(candidate.serial())) {
        throw refuse("assemblies[" + i + "].serial", "is used twice: " + candidate.serial());
      }
    }
  }

  private static void limit(String field, @Nullable PoolLimit limit) {
    if (limit == null) {
      throw refuse(field, "is missing");
    }
    above0(field + ".frequencyHz", limit.frequencyHz(), 1e12);
    above0(field + ".toleranceDeg", limit.toleranceDeg(), 1e12);
    if (limit.lossSpreadDb() != null) {
      above0(field + ".lossSpreadDb", limit.lossSpreadDb(), 1e12);
    }
  }

  private static void candidate(int i, Candidate candidate, int frequencies, boolean loss) {
    String serial = candidate.serial();
    if (serial == null || serial.isBlank()) {
      throw refuse("assemblies[" + i + "].serial", serial == null ? "is missing" : "is blank");
    }
    values(i, "phaseErrorDeg", candidate.phaseErrorDeg(), frequencies, Double.NEGATIVE_INFINITY);
    if (loss || candidate.insertionLossDb() != null) {
      values(
          i, "insertionLossDb", candidate.insertionLossDb(), frequencies, Double.NEGATIVE_INFINITY);
    }
    Cut cut = candidate.cut();
    if (cut == null) {
      return;
    }
    String field = "assemblies[" + i + "]";
    above0(field + ".velocityFactor", cut.velocityFactor(), 1);
    between(field + ".trimAllowanceMm", cut.trimAllowanceMm(), 0, ProblemCheck.LONGEST_MM);
    if (cut.trimAllowanceMm() > 0 && loss || cut.lossDbPerM() != null) {
      values(i, "lossDbPerM", cut.lossDbPerM(), frequencies, 0);
    }
  }

  private static void values(
      int i, String name, @Nullable List<Double> values, int frequencies, double least) {
    String field = "assemblies[" + i + "]." + name;
    if (values == null) {
      throw refuse(field, "is missing");
    }
    if (values.size() != frequencies) {
      throw refuse(
          field, "must hold one value per frequency: " + frequencies + ", not " + values.size());
    }
    for (int k = 0; k < frequencies; k++) {
      Double value = values.get(k);
      if (value == null || !Double.isFinite(value)) {
        throw refuse(field + "[" + k + "]", "must be a finite number, not " + value);
      }
      if (value < least) {
        throw refuse(field + "[" + k + "]", "must be at least " + least + ", not " + value);
      }
    }
  }

  private static void above0(String field, double value, double greatest) {
    if (!(value > 0 && value <= greatest)) {
      throw refuse(field, "must be above 0 and at most " + greatest + ", not " + value);
    }
  }
}
