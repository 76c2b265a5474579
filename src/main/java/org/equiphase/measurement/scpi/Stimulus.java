package org.equiphase.measurement.scpi;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;

/** The frequencies of a sweep, as the instrument is set. */
record Stimulus(double startHz, double stopHz, int points, boolean logarithmic) {

  private static final int MOST_POINTS = 100_001;

  /**
   * @param spacing LIN or LOG, long form too; empty means linear
   */
  static Stimulus of(double startHz, double stopHz, double points, String spacing) {
    if (!(startHz >= 0 && stopHz > startHz && stopHz <= 1e12)) {
      throw new UnusableAnswer(
          "The instrument sweeps from %s Hz to %s Hz; set a start below the stop on it."
              .formatted(startHz, stopHz));
    }
    if (!(points >= 2 && points <= MOST_POINTS && points == Math.rint(points))) {
      throw new UnusableAnswer(
          "The instrument says that its sweep has %s points; 2 to %d can be taken."
              .formatted(points, MOST_POINTS));
    }
    boolean logarithmic = spacing.toUpperCase(Locale.ROOT).startsWith("LOG");
    if (!logarithmic && !spacing.isEmpty() && !spacing.toUpperCase(Locale.ROOT).startsWith("LIN")) {
      throw new UnusableAnswer(
          "The instrument spaces its points as “%s”; set it to linear or logarithmic."
              .formatted(ScpiSocket.shown(spacing)));
    }
    if (logarithmic && startHz == 0) {
      throw new UnusableAnswer("The instrument sweeps logarithmically from 0 Hz, which can't be.");
    }
    return new Stimulus(startHz, stopHz, (int) points, logarithmic);
  }

  List<Double> frequenciesHz() {
    List<Double> frequenciesHz = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double share = (double) i / (points - 1);
      frequenciesHz.add(
          logarithmic
              ? startHz * Math.pow(stopHz / startHz, share)
              : startHz + (stopHz - startHz) * share);
    }
    return frequenciesHz;
  }
}
