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
      throw new UnusableAnswer("span", startHz, stopHz);
    }
    if (!(points >= 2 && points <= MOST_POINTS && points == Math.rint(points))) {
      throw new UnusableAnswer("points", points, MOST_POINTS);
    }
    boolean logarithmic = spacing.toUpperCase(Locale.ROOT).startsWith("LOG");
    if (!logarithmic && !spacing.isEmpty() && !spacing.toUpperCase(Locale.ROOT).startsWith("LIN")) {
      throw new UnusableAnswer("spacing", ScpiSocket.shown(spacing));
    }
    if (logarithmic && startHz == 0) {
      throw new UnusableAnswer("span", startHz, stopHz);
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
