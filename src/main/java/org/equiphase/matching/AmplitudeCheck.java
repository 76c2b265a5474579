package org.equiphase.matching;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Which members of a set agree in insertion loss. A cut can't bring a loss in without losing the
 * phase, so this decides who goes together, not how much is cut.
 */
public final class AmplitudeCheck {

  /** The usual limit on the search: members looked at. */
  public static final long DEFAULT_WORK_LIMIT = 5_000_000;

  private AmplitudeCheck() {}

  /**
   * One member.
   *
   * @param serial its serial number
   * @param lossDb insertion loss at each frequency after planned cuts, any finite number
   */
  public record Member(String serial, List<Double> lossDb) {

    public Member {
      lossDb = SetProblem.copy(lossDb);
    }
  }

  /**
   * A frequency at which losses are compared.
   *
   * @param frequencyHz 1 Hz to 1 THz
   * @param spreadLimitDb most by which two members may differ, 0 or more; null for no limit
   */
  public record LossLimit(double frequencyHz, @Nullable Double spreadLimitDb) {}

  /**
   * A member outside the best window.
   *
   * @param serial its serial number
   * @param frequencyHz the frequency to blame: where it is farthest outside for the limit
   * @param lossDb its loss there
   * @param excessDb by how much the spread there would pass the limit with this member
   */
  public record Outsider(String serial, double frequencyHz, double lossDb, double excessDb) {}

  /**
   * Who agrees in loss.
   *
   * @param within serial numbers of the largest group within the limits, in the order given
   * @param spreadDb spread of that group at each frequency, limited or not
   * @param outsiders the others, in the order given
   * @param proven whether no larger group exists; false where the work limit stopped the search
   */
  public record Agreement(
      List<String> within, List<Double> spreadDb, List<Outsider> outsiders, boolean proven) {

    public Agreement {
      within = List.copyOf(within);
      spreadDb = List.copyOf(spreadDb);
      outsiders = List.copyOf(outsiders);
    }
  }

  /**
   * Finds the largest group with the usual work limit.
   *
   * @see #check(List, List, long)
   */
  public static Agreement check(List<LossLimit> limits, List<Member> members) {
    return check(limits, members, DEFAULT_WORK_LIMIT);
  }

  /**
   * Finds the largest group whose losses differ by no more than the limit at every frequency, to
   * within 1e-9 dB. Of equally large groups at a single frequency: the tightest. Deterministic.
   *
   * @param limits at least one frequency
   * @param members at least one, with serial numbers that differ
   * @param workLimit members that the search may look at, above 0; past it the best found so far
   *     stands
   * @throws InvalidProblemException naming the field
   */
  public static Agreement check(List<LossLimit> limits, List<Member> members, long workLimit) {
    List<LossLimit> frequencies = SetProblem.copy(limits);
    List<Member> assemblies = SetProblem.copy(members);
    validate(frequencies, assemblies, workLimit);
    return new AmplitudeSearch(frequencies, assemblies, workLimit).agreement();
  }

  /**
   * Insertion loss left after a cut, loss − attenuation·length (dB); below 0 where a small loss was
   * read too low.
   *
   * @param lossDb insertion loss before, finite
   * @param lossDbPerM attenuation of the cable, 0 or more, finite
   * @param cutMm length cut off, 0 to 100 000 mm
   * @throws InvalidProblemException naming the argument
   */
  public static double lossAfterCutDb(double lossDb, double lossDbPerM, double cutMm) {
    ProblemCheck.between("lossDb", lossDb, -Double.MAX_VALUE, Double.MAX_VALUE);
    ProblemCheck.between("lossDbPerM", lossDbPerM, 0, 1e6);
    ProblemCheck.between("cutMm", cutMm, 0, ProblemCheck.LONGEST_MM);
    return lossDb - lossDbPerM * cutMm / 1e3;
  }

  private static void validate(List<LossLimit> limits, List<Member> members, long workLimit) {
    if (limits.isEmpty()) {
      throw ProblemCheck.refuse("limits", "must hold at least one frequency");
    }
    for (int k = 0; k < limits.size(); k++) {
      String field = "limits[" + k + "]";
      ProblemCheck.present(field, limits.get(k));
      ProblemCheck.between(field + ".frequencyHz", limits.get(k).frequencyHz(), 1, 1e12);
      Double limit = limits.get(k).spreadLimitDb();
      if (limit != null) {
        ProblemCheck.between(field + ".spreadLimitDb", limit, 0, Double.MAX_VALUE);
      }
    }
    if (members.isEmpty()) {
      throw ProblemCheck.refuse("members", "must hold at least one member");
    }
    Set<String> serials = new HashSet<>();
    for (int i = 0; i < members.size(); i++) {
      String field = "members[" + i + "]";
      Member member = members.get(i);
      ProblemCheck.present(field, member);
      ProblemCheck.present(field + ".serial", member.serial());
      if (!serials.add(member.serial())) {
        throw ProblemCheck.refuse(field + ".serial", "is used twice: " + member.serial());
      }
      if (member.lossDb().size() != limits.size()) {
        throw ProblemCheck.refuse(
            field + ".lossDb",
            "must hold one value per frequency: "
                + limits.size()
                + ", not "
                + member.lossDb().size());
      }
      for (int k = 0; k < limits.size(); k++) {
        Double loss = member.lossDb().get(k);
        if (loss == null || !Double.isFinite(loss)) {
          throw ProblemCheck.refuse(
              field + ".lossDb[" + k + "]", "must be a finite number, not " + loss);
        }
      }
    }
    if (workLimit <= 0) {
      throw ProblemCheck.refuse("workLimit", "must be above 0, not " + workLimit);
    }
  }
}
