package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.equiphase.matching.FinishedCut.Change;
import org.equiphase.matching.VelocityFactorLearning.CutOutcome;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Learning against a batch solution by matrices, and against lots drawn at random. */
class VelocityFactorLearnerTest {

  private static final double C_MM = 299_792_458e3;
  private static final VelocityFactorEstimate PRIOR =
      VelocityFactorEstimate.ofTolerance(0.695, 0.01);

  /**
   * Generalised least squares in p = 1/v with the full covariance of all changes, the prior as one
   * more observation, by Gaussian elimination (any text on linear models: β = (XᵀΣ⁻¹X)⁻¹XᵀΣ⁻¹y).
   */
  @Test
  void equalsTheBatchSolution() {
    List<FinishedCut> cuts = lot(new Random(4), 0.69, 12, 3);
    VelocityFactorLearning learning = VelocityFactorLearner.learn(PRIOR, cuts);
    int rows = 1 + 3 * cuts.size();
    double[][] covariance = new double[rows][rows];
    double[] x = new double[rows];
    double[] y = new double[rows];
    double p0 = 1 / PRIOR.velocityFactor();
    double priorSd = PRIOR.standardUncertainty() * p0 * p0;
    covariance[0][0] = priorSd * priorSd;
    x[0] = 1;
    y[0] = p0;
    for (int i = 0; i < cuts.size(); i++) {
      FinishedCut cut = cuts.get(i);
      for (int k = 0; k < 3; k++) {
        Change change = cut.changes().get(k);
        int row = 1 + 3 * i + k;
        double g = 360 * change.frequencyHz() / C_MM;
        x[row] = g * cut.cutMm();
        y[row] = change.phaseChangeDeg();
        for (int j = 0; j < 3; j++) {
          double other = 360 * cut.changes().get(j).frequencyHz() / C_MM;
          covariance[row][1 + 3 * i + j] =
              g * other * Math.pow(p0 * cut.cutStandardUncertaintyMm(), 2)
                  + (j == k ? Math.pow(change.standardUncertaintyDeg(), 2) : 0);
        }
      }
    }
    double[] weighted = solve(covariance, x);
    double information = 0;
    double product = 0;
    for (int row = 0; row < rows; row++) {
      information += weighted[row] * x[row];
      product += weighted[row] * y[row];
    }
    double p = product / information;
    assertThat(learning.cutsUsed()).isEqualTo(12);
    assertThat(learning.birgeRatio()).isEqualTo(1);
    assertThat(learning.estimate().velocityFactor()).isCloseTo(1 / p, within(1e-10));
    assertThat(learning.estimate().standardUncertainty())
        .isCloseTo(Math.sqrt(1 / information) / (p * p), within(1e-10));
    assertThat(learning.cuts().get(11).estimateAfter()).isEqualTo(learning.estimate());
  }

  private static double[] solve(double[][] matrix, double[] right) {
    int n = right.length;
    double[][] a = new double[n][];
    double[] b = right.clone();
    for (int i = 0; i < n; i++) {
      a[i] = matrix[i].clone();
    }
    for (int i = 0; i < n; i++) {
      for (int row = i + 1; row < n; row++) {
        double factor = a[row][i] / a[i][i];
        for (int column = i; column < n; column++) {
          a[row][column] -= factor * a[i][column];
        }
        b[row] -= factor * b[i];
      }
    }
    for (int i = n - 1; i >= 0; i--) {
      for (int column = i + 1; column < n; column++) {
        b[i] -= a[i][column] * b[column];
      }
      b[i] /= a[i][i];
    }
    return b;
  }

  /** Of 2000 lots, ±2u holds the true value in 95.45 of 100 (normal distribution), ±1.9 at 4σ. */
  @Test
  void intervalCoversTheTruth() {
    Random random = new Random(7);
    int covered = 0;
    int lots = 2000;
    for (int i = 0; i < lots; i++) {
      double v = PRIOR.velocityFactor() + PRIOR.standardUncertainty() * random.nextGaussian();
      VelocityFactorEstimate estimate =
          VelocityFactorLearner.learn(PRIOR, lot(random, v, 8, 2), 100).estimate();
      if (Math.abs(estimate.velocityFactor() - v) <= 2 * estimate.standardUncertainty()) {
        covered++;
      }
    }
    // Widening by the Birge ratio in one lot of twenty can only add to the coverage.
    assertThat(covered / (double) lots).isBetween(0.9545 - 0.019, 0.9545 + 0.019);
  }

  @Test
  void orderDoesNotMatter() {
    List<FinishedCut> cuts = new ArrayList<>(lot(new Random(3), 0.699, 10, 2));
    VelocityFactorEstimate estimate = VelocityFactorLearner.learn(PRIOR, cuts).estimate();
    Collections.reverse(cuts);
    VelocityFactorEstimate reversed = VelocityFactorLearner.learn(PRIOR, cuts).estimate();
    assertThat(reversed.velocityFactor()).isCloseTo(estimate.velocityFactor(), within(1e-12));
  }

  @Test
  void withoutCutsThePriorStands() {
    VelocityFactorLearning learning = VelocityFactorLearner.learn(PRIOR, List.of());
    assertThat(learning.estimate().velocityFactor()).isCloseTo(0.695, within(1e-12));
    assertThat(learning.estimate().standardUncertainty())
        .isCloseTo(PRIOR.standardUncertainty(), within(1e-12));
  }

  /** A cut 3 mm longer than written down: wherever it stands in the lot, it alone is flagged. */
  @ParameterizedTest
  @CsvSource({"0", "4", "9"})
  void wrongCutIsFlagged(int wrong) {
    List<FinishedCut> cuts = new ArrayList<>(lot(new Random(6), 0.699, 10, 2));
    VelocityFactorEstimate clean =
        VelocityFactorLearner.learn(new VelocityFactorEstimate(0.695, 0.03), without(cuts, wrong))
            .estimate();
    FinishedCut right = cuts.get(wrong);
    cuts.set(wrong, new FinishedCut("WRONG", right.cutMm() - 3, 0.1, right.changes()));
    VelocityFactorLearning learning =
        VelocityFactorLearner.learn(new VelocityFactorEstimate(0.695, 0.03), cuts);
    assertThat(learning.cuts().stream().filter(c -> !c.used()).map(CutOutcome::serial))
        .containsExactly("WRONG");
    CutOutcome flagged = learning.cuts().get(wrong);
    assertThat(flagged.deviation()).isGreaterThan(3);
    // More phase than the cut written down explains: the cable would have to be slower.
    assertThat(flagged.impliedVelocityFactor()).isLessThan(0.6);
    assertThat(learning.estimate().velocityFactor())
        .isCloseTo(clean.velocityFactor(), within(1e-12));
  }

  private static List<FinishedCut> without(List<FinishedCut> cuts, int index) {
    List<FinishedCut> rest = new ArrayList<>(cuts);
    rest.remove(index);
    return rest;
  }

  @Test
  void aCutThatMovedThePhaseTheWrongWaySaysNoVelocityFactor() {
    FinishedCut cut = new FinishedCut("A", 5, 0.1, List.of(new Change(2.8e9, -24, 0.2)));
    CutOutcome outcome = VelocityFactorLearner.learn(PRIOR, List.of(cut)).cuts().get(0);
    assertThat(outcome.used()).isFalse();
    assertThat(outcome.impliedVelocityFactor()).isNull();
    assertThat(outcome.impliedStandardUncertainty()).isNull();
  }

  @Test
  void tinyCutsSayLittle() {
    FinishedCut tiny = new FinishedCut("A", 0.2, 0.1, List.of(new Change(2.8e9, 1.3, 0.3)));
    VelocityFactorEstimate estimate = VelocityFactorLearner.learn(PRIOR, List.of(tiny)).estimate();
    assertThat(estimate.standardUncertainty())
        .isCloseTo(PRIOR.standardUncertainty(), within(0.001 * PRIOR.standardUncertainty()));
  }

  /**
   * Two exact changes, one cut 1 % longer than planned, one 1 % shorter, and stated to 0.1 %: χ² is
   * 2·(10)² and the Birge ratio √200 (R. T. Birge, Phys. Rev. 40 (1932) 207, as used since).
   */
  @Test
  void scatterBeyondTheStatedUncertaintyWidens() {
    VelocityFactorEstimate wide = new VelocityFactorEstimate(0.7, 0.07);
    double exact = 360 * 2.8e9 / (0.7 * C_MM) * 10;
    List<FinishedCut> cuts =
        List.of(
            new FinishedCut("A", 10, 0.01, List.of(new Change(2.8e9, 1.01 * exact, 1e-6))),
            new FinishedCut("B", 10, 0.01, List.of(new Change(2.8e9, 0.99 * exact, 1e-6))));
    VelocityFactorLearning learning = VelocityFactorLearner.learn(wide, cuts, 100);
    assertThat(learning.chiSquared()).isCloseTo(200, within(1e-3));
    assertThat(learning.birgeRatio()).isCloseTo(Math.sqrt(200), within(1e-4));
    assertThat(learning.estimate().velocityFactor()).isCloseTo(0.7, within(1e-5));
    assertThat(learning.estimate().standardUncertainty())
        .isCloseTo(0.7 * 0.001 / Math.sqrt(2) * Math.sqrt(200), within(1e-5));
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0.1, 1e9, 5, 0.1, cuts[0].cutMm",
    "5, -1, 1e9, 5, 0.1, cuts[0].cutStandardUncertaintyMm",
    "5, 0.1, 0, 5, 0.1, cuts[0].changes[0].frequencyHz",
    "5, 0.1, 1e9, NaN, 0.1, cuts[0].changes[0].phaseChangeDeg",
    "5, 0.1, 1e9, 5, 0, cuts[0].changes[0].standardUncertaintyDeg",
  })
  void namesTheField(double cut, double sd, double f, double change, double u, String field) {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(
            () ->
                VelocityFactorLearner.learn(
                    PRIOR,
                    List.of(new FinishedCut("A", cut, sd, List.of(new Change(f, change, u))))))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }

  /** Cuts of 3 to 20 mm, 0.1 mm accurate, measured to 0.2° and more at each frequency. */
  private static List<FinishedCut> lot(Random random, double v, int size, int frequencies) {
    List<FinishedCut> cuts = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      double planned = 3 + 17 * random.nextDouble();
      double off = planned + 0.1 * random.nextGaussian();
      List<Change> changes = new ArrayList<>();
      for (int k = 0; k < frequencies; k++) {
        double f = 2e9 + k * 0.7e9;
        double u = 0.2 + 0.1 * k;
        changes.add(new Change(f, 360 * f * off / (v * C_MM) + u * random.nextGaussian(), u));
      }
      cuts.add(new FinishedCut("C" + i, planned, 0.1, changes));
    }
    return cuts;
  }
}
