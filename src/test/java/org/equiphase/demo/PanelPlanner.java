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
import org.equiphase.matching.CutPlanner;
import org.equiphase.matching.CutProblem;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.matching.VelocityFactorEstimate;
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
 * beforehand. It knows nothing of drift and of what the lot's cuts teach, so the service may ask
 * for a step or two more or less; a test holds its instructions against these cuts.
 */
final class PanelPlanner {

  private static final Specification PANEL = InventedOrders.PANEL.specification();
  private static final CableType CABLE = InventedShop.SEMI_RIGID;

  /** Instrument, connectors and flexure of the bench, and about what drift leaves over. */
  private static final double UNCERTAINTY_DEG =
      Math.sqrt(0.15 * 0.15 + 0.15 * 0.15 + 0.1 * 0.1 + 0.1 * 0.1);

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

  /** The cut to ask for now, mm; 0 for none. */
  static double trimMm(List<Double> errorDeg, List<Double> centerDeg) {
    List<CutProblem.Spot> spots = new ArrayList<>();
    for (int k = 0; k < errorDeg.size(); k++) {
      FrequencySpecification f = PANEL.frequencies().get(k);
      spots.add(
          new CutProblem.Spot(
              f.frequencyHz(),
              errorDeg.get(k) - centerDeg.get(k),
              f.toleranceDeg() - PANEL.guardDeg(k, UNCERTAINTY_DEG),
              UNCERTAINTY_DEG));
    }
    return CutPlanner.plan(
            new CutProblem(
                spots,
                VelocityFactorEstimate.ofTolerance(
                    CABLE.velocityFactor(), CABLE.velocityFactorTolerance()),
                PANEL.cutStandardUncertaintyMm(),
                PANEL.cutResolutionMm(),
                PANEL.trimAllowanceMm()))
        .cutMm();
  }

  /** The set's best target and who is cut. */
  static SetSolution solve(Map<String, List<Double>> errorDeg) {
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < PANEL.frequencies().size(); k++) {
      FrequencySpecification f = PANEL.frequencies().get(k);
      limits.add(
          new FrequencyLimit(
              f.frequencyHz(), f.toleranceDeg(), PANEL.guardDeg(k, UNCERTAINTY_DEG)));
    }
    List<SetProblem.Member> members = new ArrayList<>();
    errorDeg.forEach(
        (serial, errors) ->
            members.add(
                new SetProblem.Member(
                    serial, CABLE.velocityFactor(), errors, PANEL.trimAllowanceMm(), null)));
    return SetSolver.solve(
        new SetProblem(Basis.SET, null, PANEL.turns(), PANEL.aimFraction(), limits, members));
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
