package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.equiphase.matching.FinishedCut.Change;
import org.equiphase.matching.VelocityFactorLearning.CutOutcome;
import org.equiphase.rf.PhysicalConstants;
import org.jspecify.annotations.Nullable;

/**
 * Learns a lot's velocity factor v from its finished cuts.
 *
 * <p>A cut d moves the phase at frequency k by (360·f_k/c)·(d + δ)·p + ε_k, where p = 1/v, δ is
 * what really came off less d, common to all frequencies, and ε_k the error of the change,
 * independent from frequency to frequency. With the small term δ·p taken at the prior's p this is
 * linear and normal in p, so that Bayes' rule is exact: each cut adds its weight, and the order
 * doesn't matter. The covariance of one cut's changes is diagonal plus rank one; weighting the
 * frequencies by their own uncertainties first, then adding δ, is the same as inverting it.
 *
 * <p>Outliers: starting from all cuts, the one farthest from what the prior and the others predict
 * is left out, as long as it is beyond the limit; one left out that fits the final estimate is
 * taken back. So a wrong first cut is found by those after it.
 *
 * <p>The uncertainty has no floor. Where the cuts used scatter about their mean more than 95 of 100
 * lots would by their stated uncertainties (χ² test), it is widened by the Birge ratio √(χ²/(n−1)).
 */
public final class VelocityFactorLearner {

  /** Usual limit on the deviation of a cut, in standard deviations. */
  public static final double DEFAULT_OUTLIER_LIMIT = 3;

  private static final double CONFIDENCE = 0.95;
  private static final int MOST_CUTS = 10_000;

  private VelocityFactorLearner() {}

  /**
   * Learns with the usual limit on outliers.
   *
   * @see #learn(VelocityFactorEstimate, List, double)
   */
  public static VelocityFactorLearning learn(VelocityFactorEstimate prior, List<FinishedCut> cuts) {
    return learn(prior, cuts, DEFAULT_OUTLIER_LIMIT);
  }

  /**
   * The velocity factor after the cuts.
   *
   * @param prior what was known before, such as {@link VelocityFactorEstimate#ofTolerance}
   * @param cuts finished cuts in order of time, none to 10 000
   * @param outlierLimit deviation beyond which a cut is an outlier, in standard deviations, 1 to
   *     100
   * @throws InvalidProblemException naming the field
   */
  public static VelocityFactorLearning learn(
      VelocityFactorEstimate prior, List<FinishedCut> cuts, double outlierLimit) {
    ProblemCheck.present("prior", prior);
    List<FinishedCut> checked = SetProblem.copy(cuts);
    check(checked);
    ProblemCheck.between("outlierLimit", outlierLimit, 1, 100);
    Lot lot = new Lot(prior, checked);
    lot.leaveOutliersOut(outlierLimit);
    return lot.learning();
  }

  private static void check(List<FinishedCut> cuts) {
    if (cuts.size() > MOST_CUTS) {
      throw ProblemCheck.refuse(
          "cuts", "must hold at most " + MOST_CUTS + " cuts, not " + cuts.size());
    }
    for (int i = 0; i < cuts.size(); i++) {
      String field = "cuts[" + i + "]";
      FinishedCut cut = cuts.get(i);
      ProblemCheck.present(field, cut);
      ProblemCheck.present(field + ".serial", cut.serial());
      aboveZero(field + ".cutMm", cut.cutMm(), ProblemCheck.LONGEST_MM);
      ProblemCheck.between(
          field + ".cutStandardUncertaintyMm", cut.cutStandardUncertaintyMm(), 0, 1000);
      if (cut.changes().isEmpty()) {
        throw ProblemCheck.refuse(field + ".changes", "must hold at least one frequency");
      }
      for (int k = 0; k < cut.changes().size(); k++) {
        String at = field + ".changes[" + k + "]";
        Change change = cut.changes().get(k);
        ProblemCheck.present(at, change);
        ProblemCheck.between(at + ".frequencyHz", change.frequencyHz(), 1, 1e12);
        ProblemCheck.between(at + ".phaseChangeDeg", change.phaseChangeDeg(), -1e9, 1e9);
        aboveZero(at + ".standardUncertaintyDeg", change.standardUncertaintyDeg(), 1e6);
      }
    }
  }

  private static void aboveZero(String field, double value, double greatest) {
    if (!(value > 0 && value <= greatest)) {
      throw ProblemCheck.refuse(
          field, "must be above 0 and at most " + greatest + ", not " + value);
    }
  }

  /** A normal belief about p relative to the prior's: p = p0·(1 + mean). */
  private record Belief(double mean, double variance) {

    double sd() {
      return Math.sqrt(variance);
    }
  }

  /** The cuts of a lot, each as one value of p relative to the prior's. */
  private static final class Lot {

    private final VelocityFactorEstimate prior;
    private final List<FinishedCut> cuts;
    private final Belief[] said;
    private final boolean[] used;
    private final double priorVariance;

    /** Of the cuts used: sum of the weights, and of the weights times the values. */
    private double weight;

    private double sum;

    Lot(VelocityFactorEstimate prior, List<FinishedCut> cuts) {
      this.prior = prior;
      this.cuts = cuts;
      double share = prior.standardUncertainty() / prior.velocityFactor();
      priorVariance = share * share;
      said = cuts.stream().map(this::said).toArray(Belief[]::new);
      used = new boolean[said.length];
      for (int i = 0; i < said.length; i++) {
        use(i, true);
      }
    }

    /** The phase per (360·f/c), that is (d + δ)·p, from all frequencies; then per cut length. */
    private Belief said(FinishedCut cut) {
      double product = 0;
      double square = 0;
      for (Change change : cut.changes()) {
        double degPerMm = 0.36 * change.frequencyHz() / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
        double weight = 1 / (change.standardUncertaintyDeg() * change.standardUncertaintyDeg());
        product += weight * degPerMm * change.phaseChangeDeg();
        square += weight * degPerMm * degPerMm;
      }
      double v = prior.velocityFactor();
      double lengthMm = v * product / square;
      double cutSd = cut.cutStandardUncertaintyMm();
      double d = cut.cutMm();
      return new Belief(lengthMm / d - 1, (v * v / square + cutSd * cutSd) / (d * d));
    }

    /** What the prior and the cuts used so far say together. */
    private Belief together() {
      return priorVariance == 0
          ? new Belief(0, 0)
          : new Belief(sum / (weight + 1 / priorVariance), 1 / (weight + 1 / priorVariance));
    }

    private void add(int i, int sign) {
      weight += sign / said[i].variance;
      sum += sign * said[i].mean / said[i].variance;
    }

    private void use(int i, boolean use) {
      used[i] = use;
      add(i, use ? 1 : -1);
    }

    /** Distance of a cut from what the prior and the others say, in standard deviations. */
    private double deviation(int i) {
      if (used[i]) {
        add(i, -1);
      }
      Belief others = together();
      if (used[i]) {
        add(i, 1);
      }
      return (said[i].mean - others.mean) / Math.sqrt(said[i].variance + others.variance);
    }

    void leaveOutliersOut(double limit) {
      for (int round = 0; round < 4 * said.length; round++) {
        int farthest = extreme(true);
        if (farthest >= 0 && Math.abs(deviation(farthest)) > limit) {
          use(farthest, false);
          continue;
        }
        int nearest = extreme(false);
        if (nearest < 0 || Math.abs(deviation(nearest)) > limit) {
          return;
        }
        use(nearest, true);
      }
    }

    /** The farthest of the cuts used, or the nearest of those left out; −1 for none. */
    private int extreme(boolean amongUsed) {
      int extreme = -1;
      double value = 0;
      for (int i = 0; i < said.length; i++) {
        if (used[i] == amongUsed) {
          double distance = amongUsed ? Math.abs(deviation(i)) : -Math.abs(deviation(i));
          if (extreme < 0 || distance > value) {
            extreme = i;
            value = distance;
          }
        }
      }
      return extreme;
    }

    VelocityFactorLearning learning() {
      double[] deviation = IntStream.range(0, said.length).mapToDouble(this::deviation).toArray();
      List<CutOutcome> outcomes = new ArrayList<>();
      weight = 0;
      sum = 0;
      int count = 0;
      for (int i = 0; i < said.length; i++) {
        if (used[i]) {
          add(i, 1);
          count++;
        }
        outcomes.add(outcome(i, deviation[i]));
      }
      double chiSquared = 0;
      for (int i = 0; i < said.length; i++) {
        if (used[i]) {
          double distance = said[i].mean - sum / weight;
          chiSquared += distance * distance / said[i].variance;
        }
      }
      double birge = birgeRatio(chiSquared, count - 1);
      return new VelocityFactorLearning(
          estimate(together(), birge), outcomes, count, chiSquared, birge);
    }

    private CutOutcome outcome(int i, double deviation) {
      Belief own = said[i];
      boolean tells = 1 + own.mean >= 2 * own.sd();
      @Nullable Double implied = tells ? prior.velocityFactor() / (1 + own.mean) : null;
      return new CutOutcome(
          cuts.get(i).serial(),
          cuts.get(i).cutMm(),
          implied,
          implied == null ? null : implied * own.sd() / (1 + own.mean),
          deviation,
          used[i],
          estimate(together(), 1));
    }

    private static double birgeRatio(double chiSquared, int freedom) {
      if (freedom < 1) {
        return 1;
      }
      double usual = ChiSquaredDistribution.of(freedom).inverseCumulativeProbability(CONFIDENCE);
      return chiSquared > usual ? Math.sqrt(chiSquared / freedom) : 1;
    }

    private VelocityFactorEstimate estimate(Belief belief, double widening) {
      double v = Math.min(1, prior.velocityFactor() / (1 + belief.mean));
      double uncertainty = widening * v * belief.sd() / (1 + belief.mean);
      return new VelocityFactorEstimate(v, Math.min(uncertainty, v / 10));
    }
  }
}
