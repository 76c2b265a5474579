package org.equiphase.rf;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import org.equiphase.rf.SweepAnalysis.TurnsSource;

/** Reads delay, length, turns and spot values out of a sweep. */
public final class SweepAnalyzer {
  private static final double LEAST_CONFIDENCE = 0.5;

  // The nearest number of turns must be nearer than the next by half as much again.
  private static final double SETTLED_SHARE = 0.4;

  private final Sweep sweep;
  private final SweepSettings settings;
  private final int passes;
  private final double[] frequencyHz;

  private SweepAnalyzer(Sweep sweep, SweepSettings settings) {
    this.sweep = sweep;
    this.settings = settings;
    this.passes = settings.method().passes();
    this.frequencyHz = sweep.frequenciesHz();
  }

  /**
   * Analyses a sweep: unwraps its phase, takes end standard and adapters off, fits φ = φ0 −
   * 360·passes·f·τ, and counts the turns by N = round(φ0/360), since an ideal cable has a whole
   * number of turns at 0 Hz. In reflection N counts turns of Γ, and the one-way phase is half of
   * Γ's.
   *
   * <p>If the confidence lies below 0.5, the expected length decides: the nearest number of turns
   * in the middle of the sweep, if the length's uncertainty, where given, is below half a
   * wavelength (a quarter in reflection) and covers the departure, or, where not given, if the next
   * number lies at least half as far away again. Otherwise turns and total phases stay unknown.
   *
   * @throws UndersampledSweepException for a sweep whose phase turns 180° or more from point to
   *     point
   * @throws InvalidQuantityException for a sweep of one point, a parameter that is zero somewhere,
   *     or a spot outside the sweep
   */
  public static SweepAnalysis analyse(Sweep sweep, SweepSettings settings) {
    return new SweepAnalyzer(sweep, settings).analyse();
  }

  private SweepAnalysis analyse() {
    if (sweep.points() < 2) {
      throw new InvalidQuantityException(
          Sweep.FIELD,
          "a sweep needs at least 2 points to show a delay; log a single frequency as a reading");
    }
    Sampling sampling = new Sampling(sweep, settings);
    sampling.requireFineEnoughForExpectedLength();
    double[] lossDb = insertionLossDb();
    double[] measuredDeg = unwrappedDeg();
    sampling.requireConsistent(frequencyHz, measuredDeg, lossDb);

    double[] phaseDeg = withoutFixture(measuredDeg);
    StraightLine line = StraightLine.through(frequencyHz, phaseDeg);
    double zeroHertzTurns = line.at(0) / 360;
    double confidence = 1 - 2 * Math.abs(zeroHertzTurns - Math.rint(zeroHertzTurns));
    TurnsSource source = TurnsSource.NONE;
    double wholeTurns = 0;
    if (confidence >= LEAST_CONFIDENCE) {
      source = TurnsSource.INTERCEPT;
      wholeTurns = Math.rint(zeroHertzTurns);
    } else if (settings.expectedLength() != null) {
      double turnsTooMany = turnsBeyond(settings.expectedLength(), line);
      if (settles(turnsTooMany, line.meanX())) {
        source = TurnsSource.EXPECTED_LENGTH;
        wholeTurns = Math.rint(turnsTooMany);
      }
    }
    for (int i = 0; i < phaseDeg.length; i++) {
      phaseDeg[i] = (phaseDeg[i] - 360 * wholeTurns) / passes;
    }

    boolean turnsKnown = source != TurnsSource.NONE;
    StraightLine oneWay = StraightLine.through(frequencyHz, phaseDeg);
    SweepTrace trace =
        new SweepTrace(
            frequencyHz,
            phaseDeg,
            lossDb,
            settings.method().isReflection() ? s11OfReflection() : sweep.s11Magnitudes(),
            360.0 / passes,
            turnsKnown,
            oneWay);
    Delay delay = Delay.ofSeconds(-oneWay.slope() / 360);
    double[] residualDeg = trace.residualsDeg();
    int worst = 0;
    for (int i = 1; i < residualDeg.length; i++) {
      worst = Math.abs(residualDeg[i]) > Math.abs(residualDeg[worst]) ? i : worst;
    }
    return new SweepAnalysis(
        sweep.points(),
        sweep.startHz(),
        sweep.stopHz(),
        delay,
        delay.electricalLength(),
        delay.lengthAt(settings.velocityFactor()),
        turnsKnown ? OptionalInt.of(turnsOf(phaseDeg[0])) : OptionalInt.empty(),
        confidence,
        source,
        oneWay.rmsResidual(frequencyHz, phaseDeg),
        frequencyHz[worst],
        residualDeg[worst],
        spots(trace),
        trace);
  }

  /** Measured phase with all steps taken the short way round, degrees. */
  private double[] unwrappedDeg() {
    double[] unwrapped = new double[sweep.points()];
    unwrapped[0] = sweep.phaseDeg(0);
    double before = unwrapped[0];
    double turnedDeg = 0;
    for (int i = 1; i < unwrapped.length; i++) {
      double phase = sweep.phaseDeg(i);
      // Whole turns are kept apart from the phase, so that no rounding adds up.
      double jump = phase - before;
      turnedDeg += WrappedPhase.wrapDeg(jump) - jump;
      turnedDeg = 360 * Math.rint(turnedDeg / 360);
      unwrapped[i] = phase + turnedDeg;
      before = phase;
    }
    return unwrapped;
  }

  /** Phase of the assembly alone, in the measured quantity, degrees. */
  private double[] withoutFixture(double[] measuredDeg) {
    double[] phaseDeg = new double[measuredDeg.length];
    for (int i = 0; i < phaseDeg.length; i++) {
      phaseDeg[i] =
          measuredDeg[i]
              - settings.endPhaseDeg(frequencyHz[i], sweep.referenceOhm())
              - passes * settings.referencePlane().phaseDeg(frequencyHz[i]);
    }
    return phaseDeg;
  }

  private double[] insertionLossDb() {
    double[] lossDb = new double[sweep.points()];
    for (int i = 0; i < lossDb.length; i++) {
      double magnitude = sweep.magnitude(i);
      if (magnitude == 0) {
        throw new InvalidQuantityException(
            Sweep.FIELD,
            "the measured parameter is zero at " + frequencyHz[i] + " Hz and so has no phase");
      }
      lossDb[i] = -20 * Math.log10(magnitude) / passes - settings.fixtureLossDb(frequencyHz[i]);
    }
    return lossDb;
  }

  private double[] s11OfReflection() {
    double[] magnitude = new double[sweep.points()];
    for (int i = 0; i < magnitude.length; i++) {
      magnitude[i] = sweep.magnitude(i);
    }
    return magnitude;
  }

  /** Turns of the measured quantity, in the middle of the sweep, beyond the expected length's. */
  private double turnsBeyond(Length expected, StraightLine line) {
    double expectedDeg =
        -360 * passes * line.meanX() * expected.delayAt(settings.velocityFactor()).seconds();
    return (line.meanY() - expectedDeg) / 360;
  }

  private boolean settles(double turnsTooMany, double middleHz) {
    double departure = Math.abs(turnsTooMany - Math.rint(turnsTooMany));
    Length uncertainty = settings.expectedLengthUncertainty();
    if (uncertainty == null) {
      return departure <= SETTLED_SHARE;
    }
    double uncertainTurns =
        passes * middleHz * uncertainty.delayAt(settings.velocityFactor()).seconds();
    return uncertainTurns < 0.5 && departure <= uncertainTurns;
  }

  private static int turnsOf(double totalDeg) {
    return Math.toIntExact(Math.round((WrappedPhase.wrapDeg(totalDeg) - totalDeg) / 360));
  }

  private List<SpotReading> spots(SweepTrace trace) {
    List<SpotReading> spots = new ArrayList<>();
    for (double spotHz : settings.spotHz()) {
      spots.add(trace.at(spotHz));
    }
    return spots;
  }
}
