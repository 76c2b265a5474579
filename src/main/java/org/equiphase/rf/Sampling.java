package org.equiphase.rf;

import java.util.Arrays;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Tells undersampled sweeps, whose phase turns 180° or more from point to point.
 *
 * <p>An expected length settles it: Δf must be below 1/(2·passes·τ). Without one, wrapped phases
 * alone can't always tell: a delay longer by 1/(passes·Δf) gives the same phases on an even grid.
 * The evidence that is left:
 *
 * <ul>
 *   <li>the phase rises with frequency, which would be a negative delay;
 *   <li>the widest step turns 180° or more at the delay that the other steps show;
 *   <li>the unwrapped phase departs from a straight line by more than a quarter turn;
 *   <li>the loss rises with frequency more than the length that the phase shows could explain in a
 *       cable of {@value #LOSSIEST_DB_PER_M} dB/m at 1 GHz, rising with √f. This is a judgement and
 *       no proof: usual thin cables stay below (common practice, no source), micro-coaxial ones may
 *       not, and are measured by giving the expected length, which overrules it where the phase
 *       confirms it. The limit was chosen on simulated sweeps.
 * </ul>
 *
 * What no evidence tells is a long low-loss line whose alias is a fairly long line too; only the
 * expected length does.
 */
final class Sampling {
  static final double LOSSIEST_DB_PER_M = 1.5;

  // Bounds the longest cable that a rise in loss can mean.
  private static final double LEAST_LOSSY_DB_PER_M = 0.1;

  private static final double LEAST_TELLING_LOSS_RISE_DB = 1;
  private static final double LEAST_TELLING_PHASE_RISE_DEG = 20;
  private static final double LARGEST_RESIDUAL_DEG = 90;
  private static final double CONFIRMING_SHARE = 0.25;

  private final Sweep sweep;
  private final SweepSettings settings;
  private final int passes;
  private final double spanHz;
  private final double widestStepHz;

  Sampling(Sweep sweep, SweepSettings settings) {
    this.sweep = sweep;
    this.settings = settings;
    this.passes = settings.method().passes();
    this.spanHz = sweep.stopHz() - sweep.startHz();
    double widest = 0;
    for (int i = 1; i < sweep.points(); i++) {
      widest = Math.max(widest, sweep.frequencyHz(i) - sweep.frequencyHz(i - 1));
    }
    this.widestStepHz = widest;
  }

  /** Refuses a sweep too coarse for the expected length, if there is one. */
  void requireFineEnoughForExpectedLength() {
    Length expected = settings.expectedLength();
    if (expected == null) {
      return;
    }
    double delayS = expectedDelayS(expected);
    if (tooCoarseFor(delayS)) {
      throw undersampled(
          String.format(
              Locale.ROOT,
              "at the expected length of %s m the phase turns %.0f° from point to point",
              expected.metres(),
              360 * passes * widestStepHz * delayS),
          delayS,
          "");
    }
  }

  /**
   * Refuses a sweep whose own values show that it is too coarse.
   *
   * @param phaseDeg measured phase, unwrapped step by step, degrees
   * @param lossDb one-way loss, dB
   */
  void requireConsistent(double[] frequencyHz, double[] phaseDeg, double[] lossDb) {
    StraightLine phase = StraightLine.through(frequencyHz, phaseDeg);
    double aliasS = 1 / (passes * widestStepHz);
    double steadyDelayS = medianDelayS(frequencyHz, phaseDeg);
    if (tooCoarseFor(steadyDelayS)) {
      throw undersampled(
          "the widest step turns the phase by 180° or more at the delay that the others show",
          steadyDelayS,
          "");
    }
    if (phase.slope() * spanHz > LEAST_TELLING_PHASE_RISE_DEG) {
      double delayS = aliasS - phase.slope() / (360 * passes);
      throw undersampled(
          "the phase rises with frequency, as it does where points lie too far apart",
          Math.max(delayS, longestDelayS(lossDb, frequencyHz)),
          " at least, or the number for an expectedLengthM that is given");
    }
    if (phase.largestResidual(frequencyHz, phaseDeg) > LARGEST_RESIDUAL_DEG) {
      throw undersampled(
          "the phase departs by more than 90° from a straight line over frequency, so the points"
              + " lie too far apart, or this is no cable",
          aliasS,
          " at least, or the number for an expectedLengthM that is given");
    }
    requirePlausibleLoss(-phase.slope() / (360 * passes), frequencyHz, lossDb);
  }

  private void requirePlausibleLoss(double delayS, double[] frequencyHz, double[] lossDb) {
    Length expected = settings.expectedLength();
    if (expected != null) {
      double expectedS = expectedDelayS(expected);
      if (Math.abs(delayS - expectedS) <= CONFIRMING_SHARE * expectedS) {
        return;
      }
    }
    double riseDb = lossRiseDb(frequencyHz, lossDb);
    double lengthM = Math.max(0, delayS) * settings.velocityFactor().metresPerSecond();
    double explainedDb = LOSSIEST_DB_PER_M * lengthM * rootSpan();
    if (riseDb > Math.max(LEAST_TELLING_LOSS_RISE_DB, explainedDb)) {
      double longestS = longestDelayS(lossDb, frequencyHz);
      throw undersampled(
          String.format(
              Locale.ROOT,
              "the loss rises by %.1f dB over the sweep, too much for the %.2f m that the phase"
                  + " shows, so the points lie too far apart",
              riseDb,
              lengthM),
          longestS,
          String.format(
              Locale.ROOT,
              " for any cable with that loss of up to %.0f m; give expectedLengthM for the number"
                  + " that this cable needs, or if its loss really passes %.1f dB/m at 1 GHz",
              longestS * settings.velocityFactor().metresPerSecond(),
              LOSSIEST_DB_PER_M));
    }
  }

  /** Rise of the loss over the sweep beyond what mismatch and scatter explain, dB, one way. */
  private double lossRiseDb(double[] frequencyHz, double[] lossDb) {
    double[] root = new double[frequencyHz.length];
    for (int i = 0; i < root.length; i++) {
      root[i] = Math.sqrt(frequencyHz[i] / 1e9);
    }
    StraightLine loss = StraightLine.through(root, lossDb);
    double scatterDb = 3 * loss.rmsResidual(root, lossDb);
    return loss.slope() * rootSpan() - scatterDb - mismatchDb(sweep.s11Magnitudes());
  }

  private double mismatchDb(double @Nullable [] s11Magnitude) {
    if (s11Magnitude == null || settings.method().isReflection()) {
      return 0;
    }
    double largest = Arrays.stream(s11Magnitude).max().orElse(0);
    return largest >= 1 ? Double.POSITIVE_INFINITY : Mismatch.mismatchLossDb(largest);
  }

  private double rootSpan() {
    return Math.sqrt(sweep.stopHz() / 1e9) - Math.sqrt(sweep.startHz() / 1e9);
  }

  private double longestDelayS(double[] lossDb, double[] frequencyHz) {
    double metres = lossRiseDb(frequencyHz, lossDb) / (LEAST_LOSSY_DB_PER_M * rootSpan());
    return Math.max(0, metres) / settings.velocityFactor().metresPerSecond();
  }

  private double medianDelayS(double[] frequencyHz, double[] phaseDeg) {
    double[] delayS = new double[frequencyHz.length - 1];
    for (int i = 0; i < delayS.length; i++) {
      delayS[i] =
          -(phaseDeg[i + 1] - phaseDeg[i]) / (360 * passes * (frequencyHz[i + 1] - frequencyHz[i]));
    }
    Arrays.sort(delayS);
    return delayS[delayS.length / 2];
  }

  private double expectedDelayS(Length expected) {
    return expected.delayAt(settings.velocityFactor()).seconds() + settings.fixtureDelayS();
  }

  private boolean tooCoarseFor(double delayS) {
    return 2 * passes * delayS * widestStepHz >= 1;
  }

  /** Smallest number of evenly spaced points whose step lies below 1/(2·passes·τ). */
  private UndersampledSweepException undersampled(String why, double delayS, String scope) {
    long points = (long) Math.floor(2 * passes * delayS * spanHz) + 2;
    String message =
        String.format(
            Locale.ROOT,
            "the sweep of %d points is undersampled: %s; %d points would do%s",
            sweep.points(),
            why,
            points,
            scope);
    return new UndersampledSweepException(message, points);
  }
}
