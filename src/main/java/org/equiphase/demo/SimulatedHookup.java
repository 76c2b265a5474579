package org.equiphase.demo;

import java.util.Objects;
import org.equiphase.catalog.Bench;
import org.equiphase.rf.Complex;
import org.equiphase.rf.EndStandard;

/**
 * What a bench's calibrated port sees of a cable: through its adapters, with what it has drifted.
 */
record SimulatedHookup(Bench bench, double driftPs) {

  static final double REFERENCE_OHM = 50;

  /** S-parameters with the cable between the ports. */
  Complex[][] through(SimulatedCable cable, double frequencyHz, double temperatureC) {
    Complex[][] s = cable.scattering(frequencyHz, temperatureC);
    Complex front = front(frequencyHz);
    s[0][0] = s[0][0].times(front).times(front);
    s[0][1] = s[0][1].times(front);
    s[1][0] = s[1][0].times(front);
    return s;
  }

  /** Reflection with the bench's end standard at the far end of the cable. */
  Complex reflection(SimulatedCable cable, double frequencyHz, double temperatureC) {
    EndStandard standard = Objects.requireNonNull(bench.endStandard()).toRf();
    Complex end =
        Complex.ofPolarDeg(
            Math.pow(10, -standard.lossDb(frequencyHz) / 10),
            standard.phaseDeg(frequencyHz, REFERENCE_OHM));
    Complex front = front(frequencyHz);
    return cable.reflection(frequencyHz, temperatureC, end).times(front).times(front);
  }

  private Complex front(double frequencyHz) {
    return Complex.ofPolarDeg(
        Math.pow(10, -bench.referencePlane().lossDb(frequencyHz) / 20),
        bench.referencePlane().phaseDeg(frequencyHz) - 360 * frequencyHz * driftPs * 1e-12);
  }
}
