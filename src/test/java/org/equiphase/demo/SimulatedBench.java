package org.equiphase.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Random;
import org.equiphase.catalog.Bench;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Mismatch;
import org.equiphase.rf.touchstone.FrequencyUnit;
import org.equiphase.rf.touchstone.NumberFormat;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneVersion;
import org.equiphase.rf.touchstone.TouchstoneWriter;
import org.equiphase.rf.touchstone.WriteOptions;

/** A bench that shows a cable through its adapters, with drift and noise. */
record SimulatedBench(Bench bench) {

  private static final double NOISE = 4e-4;
  private static final double DRIFT_PS = 0.12;
  private static final WriteOptions OPTIONS =
      new WriteOptions(TouchstoneVersion.V1, NumberFormat.RI, FrequencyUnit.MHZ);

  /** A phase, insertion loss and VSWR as read off the screen. */
  record Shown(double phaseDeg, double insertionLossDb, double vswr) {}

  /** The shop's temperature, °C: low in the morning, high in the afternoon. */
  static double temperatureC(Instant at) {
    double hour = at.atOffset(ZoneOffset.UTC).getHour();
    double day = Math.sin((hour - 10) / 24 * 2 * Math.PI);
    double draught = 0.4 * random("temperature " + at).nextGaussian();
    double celsius = 22.4 + 1.5 * day + draught;
    return Math.rint(10 * Math.min(Math.max(celsius, 20.5), 24.5)) / 10;
  }

  /** A generator of its own for each thing, so that one more changes no other. */
  static Random random(String name) {
    return new Random(20260626L * 31 + name.hashCode());
  }

  /** A two-port sweep. */
  String transmission(
      String title, SimulatedCable cable, double[] frequencyHz, Instant at, double temperatureC) {
    Random noise = random(title);
    Complex[][][] s = new Complex[frequencyHz.length][][];
    for (int i = 0; i < s.length; i++) {
      s[i] = seen(cable, frequencyHz[i], at, temperatureC);
      for (Complex[] row : s[i]) {
        for (int column = 0; column < row.length; column++) {
          row[column] = noisy(row[column], noise);
        }
      }
    }
    return file(
        title,
        new double[] {SimulatedHookup.REFERENCE_OHM, SimulatedHookup.REFERENCE_OHM},
        frequencyHz,
        s);
  }

  /** A one-port sweep with the bench's end standard at the far end. */
  String reflection(
      String title, SimulatedCable cable, double[] frequencyHz, Instant at, double temperatureC) {
    Random noise = random(title);
    Complex[][][] s = new Complex[frequencyHz.length][][];
    for (int i = 0; i < s.length; i++) {
      Complex gamma = hookup(at).reflection(cable, frequencyHz[i], temperatureC);
      s[i] = new Complex[][] {{noisy(gamma, noise)}};
    }
    return file(title, new double[] {SimulatedHookup.REFERENCE_OHM}, frequencyHz, s);
  }

  Shown shown(String title, SimulatedCable cable, double frequencyHz, Instant at, double celsius) {
    Random noise = random(title + frequencyHz);
    Complex[][] s = seen(cable, frequencyHz, at, celsius);
    Complex through = noisy(s[1][0], noise);
    return new Shown(
        Math.rint(100 * through.argumentDeg()) / 100,
        Math.rint(-2000 * Math.log10(through.abs())) / 100,
        Math.rint(1000 * Mismatch.vswrOfGamma(noisy(s[0][0], noise).abs())) / 1000);
  }

  private Complex[][] seen(
      SimulatedCable cable, double frequencyHz, Instant at, double temperatureC) {
    return hookup(at).through(cable, frequencyHz, temperatureC);
  }

  /** Adapters, and what the bench has drifted since its calibration. */
  private SimulatedHookup hookup(Instant at) {
    double days = Instant.EPOCH.until(at, ChronoUnit.MINUTES) / 1440.0;
    return new SimulatedHookup(bench, DRIFT_PS * Math.sin(days / 4.3 + bench.name().length()));
  }

  private static Complex noisy(Complex value, Random noise) {
    return value.plus(Complex.of(NOISE * noise.nextGaussian(), NOISE * noise.nextGaussian()));
  }

  private static String file(String title, double[] ohm, double[] frequencyHz, Complex[][][] s) {
    for (Complex[][] matrix : s) {
      for (Complex[] row : matrix) {
        for (int i = 0; i < row.length; i++) {
          row[i] = Complex.of(sixDecimals(row[i].re()), sixDecimals(row[i].im()));
        }
      }
    }
    StringBuilder text = new StringBuilder("! " + title + ", invented demo data\n");
    try {
      TouchstoneWriter.write(TouchstoneFile.of(ohm, frequencyHz, s, List.of()), OPTIONS, text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString();
  }

  private static double sixDecimals(double value) {
    return Math.rint(value * 1e6) / 1e6 + 0.0;
  }
}
