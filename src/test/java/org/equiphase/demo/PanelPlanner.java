package org.equiphase.demo;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.Basis;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.SpotReading;
import org.equiphase.rf.SweepAnalyzer;
import org.equiphase.rf.SweepSettings;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;

/**
 * Plans the panel's cuts from its own sweeps, so that the sweeps after the cuts can be generated
 * beforehand. The service plans anew; a test holds its instructions against these cuts.
 */
final class PanelPlanner {

  private static final Specification PANEL = InventedOrders.PANEL.specification();
  private static final CableType CABLE = InventedShop.SEMI_RIGID;

  private PanelPlanner() {}

  /** Insertion phase at the reference temperature less that of a nominal cable. */
  static List<Double> errorDeg(String sweep, double temperatureC) {
    List<Double> errors = new ArrayList<>();
    for (SpotReading spot : spots(sweep)) {
      double phaseDeg =
          CABLE
              .phaseTemperatureCurve()
              .orElseThrow()
              .correctDeg(
                  spot.totalPhaseDeg().orElseThrow(), temperatureC, PANEL.referenceTemperatureC());
      double slope =
          CABLE.nominalVelocityFactor().degreesPerMetre(Frequency.ofHertz(spot.frequencyHz()));
      errors.add(phaseDeg + slope * PANEL.nominalLengthMm() / 1e3);
    }
    return errors;
  }

  /** The set's best target and the cuts that follow. */
  static SetSolution solve(Map<String, List<Double>> errorDeg) {
    return solve(Basis.SET, errorDeg);
  }

  /** The cut that a second reading asks for, mm; 0 for none. */
  static double nextTrimMm(String serial, List<Double> errorDeg, List<Double> centerDeg) {
    List<Double> left = new ArrayList<>();
    for (int k = 0; k < errorDeg.size(); k++) {
      left.add(errorDeg.get(k) - centerDeg.get(k));
    }
    return toStep(solve(Basis.NOMINAL, Map.of(serial, left)).assemblies().get(0).trimMm());
  }

  /** A planned cut rounded up to the step in which cuts are asked for. */
  static double toStep(double trimMm) {
    double step = PANEL.cutResolutionMm();
    return Math.rint(Math.ceil(trimMm / step - 1e-9) * step * 1e6) / 1e6;
  }

  private static SetSolution solve(Basis basis, Map<String, List<Double>> errorDeg) {
    double uncertaintyDeg = InventedShop.PANEL_BENCH.instrument().phaseStandardUncertaintyDeg();
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < PANEL.frequencies().size(); k++) {
      FrequencySpecification f = PANEL.frequencies().get(k);
      limits.add(
          new FrequencyLimit(f.frequencyHz(), f.toleranceDeg(), PANEL.guardDeg(k, uncertaintyDeg)));
    }
    List<SetProblem.Member> members = new ArrayList<>();
    errorDeg.forEach(
        (serial, errors) ->
            members.add(
                new SetProblem.Member(
                    serial, CABLE.velocityFactor(), errors, PANEL.trimAllowanceMm(), null)));
    return SetSolver.solve(
        new SetProblem(basis, null, PANEL.turns(), PANEL.aimFraction(), limits, members));
  }

  private static List<SpotReading> spots(String sweep) {
    try {
      TouchstoneFile file =
          TouchstoneReader.read(new StringReader(sweep), OptionalInt.of(2), ReadLimits.USUAL);
      return SweepAnalyzer.analyse(
              file.sweep(PANEL.method()),
              SweepSettings.of(PANEL.method(), CABLE.nominalVelocityFactor())
                  .withExpectedLength(Length.ofMillimetres(PANEL.nominalLengthMm()))
                  .withReferencePlane(InventedShop.PANEL_BENCH.referencePlane())
                  .withSpotsHz(
                      PANEL.frequencies().stream()
                          .map(FrequencySpecification::frequencyHz)
                          .toList()))
          .spots();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
