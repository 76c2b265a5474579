package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.equiphase.rf.SweepAnalysis.TurnsSource;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Validation against coaxial lines simulated with scikit-rf and ngspice; src/test/resources/lines,
 * see the README there.
 */
class LineReferenceCasesTest {
  // The files carry 9 to 11 digits and the table 12: a phase is good to about 1e-7 degrees.
  private static final double PHASE_DEG = 1e-6;
  private static final double RELATIVE = 1e-9;

  static Stream<CsvRows.Row> wellSampled() {
    return CsvRows.of("/lines/expected.csv").filter(row -> row.text("undersampled").equals("0"));
  }

  static Stream<CsvRows.Row> undersampled() {
    return CsvRows.of("/lines/expected.csv").filter(row -> row.text("undersampled").equals("1"));
  }

  @ParameterizedTest
  @MethodSource("wellSampled")
  void phasesAreThoseOfTheSimulation(CsvRows.Row row) throws IOException {
    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep(row), settings(row));

    double endDeg = method(row).idealEndPhaseDeg();
    double rippleDeg = row.number("max_measured_ripple_deg");
    for (int i = 1; i <= 3; i++) {
      SpotReading spot = analysis.spots().get(i - 1);
      double measuredDeg =
          (row.number("measured_unwrapped_deg_" + i) - endDeg) / method(row).passes();
      assertThat(spot.totalPhaseDeg().orElseThrow()).isCloseTo(measuredDeg, within(PHASE_DEG));
      // In reflection a mismatch adds a ripple to Γ that S21 has not; the table says how much.
      assertThat(spot.totalPhaseDeg().orElseThrow())
          .isCloseTo(row.number("s21_unwrapped_deg_" + i), within(PHASE_DEG + 2 * rippleDeg));
      assertThat(WrappedPhase.wrapDeg(spot.wrappedPhaseDeg() - measuredDeg))
          .isCloseTo(0, within(PHASE_DEG));
    }
    assertThat(analysis.turnsSource()).isEqualTo(TurnsSource.INTERCEPT);
  }

  @ParameterizedTest
  @MethodSource("wellSampled")
  void delayAndLengthsAreThoseOfTheSimulation(CsvRows.Row row) throws IOException {
    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep(row), settings(row));

    assertRelative(analysis.delay().inNanoseconds(), row.number("delay_fit_ns"));
    if (row.number("max_measured_ripple_deg") < PHASE_DEG) {
      assertRelative(analysis.delay().inNanoseconds(), row.number("delay_ns"));
      assertRelative(analysis.electricalLength().metres(), row.number("electrical_length_m"));
      assertRelative(analysis.physicalLength().metres(), row.number("physical_length_m"));
      assertThat(analysis.fitResidualDeg()).isLessThan(PHASE_DEG);
      assertThat(analysis.worstResidualDeg()).isCloseTo(0, within(PHASE_DEG));
    } else {
      // The fitted line lies within the ripple of the true one.
      assertThat(Math.abs(analysis.worstResidualDeg()))
          .isBetween(analysis.fitResidualDeg(), 2 * row.number("max_measured_ripple_deg"));
      assertThat(analysis.fitResidualDeg())
          .isBetween(
              row.number("max_measured_ripple_deg") / 100, row.number("max_measured_ripple_deg"));
    }
    assertThat(analysis.points()).isEqualTo((int) row.number("points"));
  }

  @ParameterizedTest
  @MethodSource("wellSampled")
  void lossAndVswrAreThoseOfTheSimulation(CsvRows.Row row) throws IOException {
    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep(row), settings(row));

    // Half the 9.542 dB that a load of 100 Ω itself returns less, |Γ| = 1/3.
    double loadDb = row.text("termination").equals("load100") ? 10 * Math.log10(3) : 0;
    // r09: the line's 50.73 Ω against 50 Ω changes |Γ| by up to 2·0.0072, and with it the loss.
    boolean mismatched = method(row).isReflection() && row.number("z0_ohm") != 50;
    double lossDb = mismatched ? 0.2 : 2e-9;
    for (int i = 1; i <= 3; i++) {
      SpotReading spot = analysis.spots().get(i - 1);
      assertThat(spot.insertionLossDb())
          .isCloseTo(row.number("insertion_loss_dB_" + i) + loadDb, within(lossDb));
      assertThat(spot.vswr().orElseThrow())
          .isCloseTo(row.number("vswr_" + i), within(1e-8 * row.number("vswr_" + i)));
    }
  }

  @ParameterizedTest
  @MethodSource("wellSampled")
  void anExpectedLengthChangesNothingWhereTheSweepIsSure(CsvRows.Row row) throws IOException {
    SweepAnalysis without = SweepAnalyzer.analyse(sweep(row), settings(row));
    SweepAnalysis with = SweepAnalyzer.analyse(sweep(row), expecting(row));

    assertThat(with.spots()).isEqualTo(without.spots());
    assertThat(with.turns()).isEqualTo(without.turns());
  }

  @Nested
  class Undersampled {
    static Stream<CsvRows.Row> undersampled() {
      return LineReferenceCasesTest.undersampled();
    }

    @ParameterizedTest
    @MethodSource("undersampled")
    void isRefusedWithTheNumberOfPointsForTheExpectedLength(CsvRows.Row row) {
      UndersampledSweepException refusal =
          catchThrowableOfType(
              UndersampledSweepException.class,
              () -> SweepAnalyzer.analyse(sweep(row), expecting(row)));

      assertThat(refusal.sufficientPoints()).isEqualTo(pointsNeeded(row));
      assertThat(refusal).hasMessageContaining(pointsNeeded(row) + " points would do");
    }

    @ParameterizedTest
    @MethodSource("undersampled")
    void isRefusedWithoutAnExpectedLengthToo(CsvRows.Row row) {
      UndersampledSweepException refusal =
          catchThrowableOfType(
              UndersampledSweepException.class,
              () -> SweepAnalyzer.analyse(sweep(row), settings(row)));

      assertThat(refusal.sufficientPoints()).isGreaterThanOrEqualTo(pointsNeeded(row));
      assertThat(refusal).hasMessageContaining(refusal.sufficientPoints() + " points would do");
    }

    /** Δf below 1/(2·τ), 1/(4·τ) in reflection, over 2 to 18 GHz. */
    private static long pointsNeeded(CsvRows.Row row) {
      double delayS = row.number("delay_ns") / 1e9;
      return (long) Math.floor(16e9 * 2 * method(row).passes() * delayS) + 2;
    }
  }

  private static void assertRelative(double actual, double expected) {
    assertThat(actual).isCloseTo(expected, within(RELATIVE * expected));
  }

  static Method method(CsvRows.Row row) {
    return Method.valueOf(row.text("method").toUpperCase(Locale.ROOT));
  }

  static SweepSettings settings(CsvRows.Row row) {
    return SweepSettings.of(method(row), VelocityFactor.of(row.number("velocity_factor")))
        .withSpotsHz(List.of(row.number("f1_Hz"), row.number("f2_Hz"), row.number("f3_Hz")));
  }

  static SweepSettings expecting(CsvRows.Row row) {
    return settings(row).withExpectedLength(Length.ofMetres(row.number("physical_length_m")));
  }

  private static Sweep sweep(CsvRows.Row row) throws IOException {
    String file = row.text("file");
    try (InputStream stream = LineReferenceCasesTest.class.getResourceAsStream("/lines/" + file)) {
      return TouchstoneReader.read(stream, TouchstoneReader.portsOfFileName(file), ReadLimits.USUAL)
          .sweep(method(row));
    }
  }
}
