package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.equiphase.rf.TimeDomain.Peak;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Validation of the time-domain view against reflections at known places, written down here from
 * Γ·exp(−j·4π·f·L/(v·c)), against lines simulated with scikit-rf, and against published figures of
 * the windows.
 */
class TimeDomainTest {
  private static final VelocityFactor CABLE = VelocityFactor.of(0.7);

  static Stream<Window> windows() {
    return Stream.of(
        Window.rectangular(), Window.hann(), Window.kaiser(3), Window.kaiser(6), Window.kaiser(13));
  }

  @ParameterizedTest
  @MethodSource("windows")
  void aFullReflectionReadsOneAtItsPlace(Window window) {
    TimeDomain view = TimeDomain.ofReflection(reflections(401, 1.217, 1), window, CABLE);

    assertThat(view.peaks()).hasSize(1);
    Peak peak = view.peaks().get(0);
    assertThat(peak.reflection()).isCloseTo(1, within(1e-12));
    assertThat(peak.returnLossDb()).isCloseTo(0, within(1e-9));
    assertThat(peak.distanceMm()).isCloseTo(1217, within(1e-3));
    // v·c/(2·Δf), Δf = 16 GHz/400.
    assertThat(view.aliasFreeMm()).isCloseTo(0.7 * 299_792_458 / (2 * 40e6) * 1e3, within(1e-6));
    assertThat(view.distanceMm(1) - view.distanceMm(0))
        .isCloseTo(view.aliasFreeMm() / view.bins(), within(1e-9));
    int highest = 0;
    for (int bin = 0; bin < view.bins(); bin++) {
      highest = view.reflection(bin) > view.reflection(highest) ? bin : highest;
    }
    assertThat(view.distanceMm(highest)).isCloseTo(1217, within(1.0));
  }

  @Test
  void whatLiesBeyondTheRangeComesBackInIt() {
    TimeDomain view = TimeDomain.ofReflection(reflections(401, 3.217, 0.5), Window.hann(), CABLE);

    assertThat(view.peaks().get(0).distanceMm()).isCloseTo(3217 - view.aliasFreeMm(), within(1e-3));
  }

  @ParameterizedTest
  @MethodSource("windows")
  void theResolutionIsTheWidthAtHalfHeight(Window window) {
    double placeM = 1.0;
    TimeDomain view = TimeDomain.ofReflection(reflections(1601, placeM, 0.5), window, CABLE);

    int first = -1;
    int last = 0;
    for (int bin = 0; bin < view.bins(); bin++) {
      if (view.reflection(bin) >= 0.25) {
        first = first < 0 ? bin : first;
        last = bin;
      }
    }
    double binMm = view.aliasFreeMm() / view.bins();
    assertThat(view.resolutionMm())
        .isCloseTo(view.distanceMm(last) - view.distanceMm(first), within(2 * binMm));
  }

  /**
   * Widths at −6 dB in bins of 1/span and highest sidelobes: rectangular 1.21 and −13 dB, Hann 2.00
   * and −32 dB, Kaiser α = 2 (β = 2π) 1.99 and −46 dB (F. J. Harris, On the use of windows, Proc.
   * IEEE 66, 1978, table 1; recalled).
   */
  @ParameterizedTest
  @CsvSource({
    "RECTANGULAR, 0, 1.21, -13",
    "HANN, 0, 2.00, -32",
    "KAISER, 6.283185307, 1.99, -46",
    "KAISER, 7.853981634, 2.20, -57",
    "KAISER, 9.424777961, 2.39, -69"
  })
  void windowsAreAsPublished(Window.Kind kind, double beta, double widthBins, double sidelobeDb) {
    Window window = new Window(kind, beta);
    int points = 2001;
    TimeDomain view = TimeDomain.ofReflection(reflections(points, 0.9, 1), window, CABLE);

    assertThat(view.resolutionMm() * points / view.aliasFreeMm())
        .isCloseTo(widthBins, within(0.011));
    assertThat(20 * Math.log10(window.sidelobe())).isCloseTo(sidelobeDb, within(1.0));
    double nullMm = window.firstNull() * view.aliasFreeMm() / points;
    double highest = 0;
    for (int bin = 0; bin < view.bins(); bin++) {
      if (Math.abs(view.distanceMm(bin) - 900) > 1.02 * nullMm) {
        highest = Math.max(highest, view.reflection(bin));
      }
    }
    // Bins may miss a sidelobe's top by a few per cent.
    assertThat(highest / window.sidelobe()).isBetween(0.9, 1.03);
  }

  @Test
  void twoConnectorsAreToldApart() {
    Sweep sweep = reflections(1601, 0.0, 0.03, 2.4, 0.02);
    TimeDomain view = TimeDomain.ofReflection(sweep, Window.kaiser(6), CABLE);

    List<Peak> peaks = view.peaks();
    assertThat(peaks).hasSize(2);
    assertThat(peaks.get(0).distanceMm()).isCloseTo(0, within(0.01));
    assertThat(peaks.get(0).reflection()).isCloseTo(0.03, within(1e-5));
    assertThat(peaks.get(1).distanceMm()).isCloseTo(2400, within(0.01));
    assertThat(peaks.get(1).reflection()).isCloseTo(0.02, within(1e-5));
    assertThat(peaks.get(1).returnLossDb()).isCloseTo(-20 * Math.log10(0.02), within(1e-2));
  }

  @Test
  void aSmallReflectionIsNotLostBesideALargeOne() {
    // 40 dB down: above Kaiser's sidelobes, below the rectangle's.
    Sweep sweep = reflections(801, 1.0, 0.9, 1.3, 0.009 * 2);
    assertThat(TimeDomain.ofReflection(sweep, Window.kaiser(8), CABLE).peaks()).hasSize(2);
    assertThat(TimeDomain.ofReflection(sweep, Window.rectangular(), CABLE).peaks()).hasSize(1);
  }

  @ParameterizedTest
  @CsvSource({"t16.s2p, 0.797, 3067", "t17.s2p, 0.8435, 1943.4"})
  void simulatedConnectorsSitAtTheEnds(String file, double velocityFactor, double lengthMm)
      throws IOException {
    TimeDomain view = view(file, Method.REFLECTION_OPEN, velocityFactor);

    // Sections of 41 to 45 ohm and 55 to 58 ohm, 6 to 12 mm long, at the two ends (README there).
    List<Peak> ends = view.peaks();
    assertThat(ends.get(0).distanceMm()).isCloseTo(0, within(view.resolutionMm()));
    assertThat(ends)
        .anySatisfy(
            peak -> assertThat(peak.distanceMm()).isCloseTo(lengthMm, within(view.resolutionMm())));
    // Nothing but the two ends and what goes to and fro between them.
    assertThat(ends)
        .allSatisfy(
            peak ->
                assertThat(Math.abs(Math.IEEEremainder(peak.distanceMm(), lengthMm)))
                    .isLessThan(view.resolutionMm()));
  }

  static Stream<CsvRows.Row> terminatedLines() {
    return CsvRows.of("/lines/expected.csv")
        .filter(row -> row.text("method").startsWith("reflection"))
        .filter(row -> row.text("undersampled").equals("0"));
  }

  @ParameterizedTest
  @MethodSource("terminatedLines")
  void theEndOfASimulatedLineSitsAtItsLength(CsvRows.Row row) throws IOException {
    TimeDomain view = view(row.text("file"), Method.REFLECTION_OPEN, row.number("velocity_factor"));

    Peak end =
        view.peaks().stream()
            .max(java.util.Comparator.comparingDouble(Peak::reflection))
            .orElseThrow();
    double lengthMm = row.number("physical_length_m") * 1e3;
    assertThat(end.distanceMm()).isCloseTo(lengthMm, within(view.resolutionMm() / 20));
    // The line's loss there and back, between its values at the ends of the band.
    double gamma = row.text("termination").equals("load100") ? 1 / 3.0 : 1;
    double leastDb = 2 * row.number("insertion_loss_dB_1");
    double mostDb = 2 * row.number("insertion_loss_dB_3");
    double lossDb = -20 * Math.log10(end.reflection() / gamma);
    assertThat(lossDb).isBetween(leastDb - 0.5, mostDb + 0.5);
  }

  @Test
  void unevenSweepsAreRefused() {
    double[] hertz = SyntheticSweep.even(1e9, 2e9, 11);
    hertz[4] += 5e6;
    Sweep uneven = Sweep.of(hertz, new double[11], new double[11]);
    assertThatThrownBy(() -> TimeDomain.ofReflection(uneven, Window.hann(), CABLE))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("even steps")
        .hasMessageContaining("point 5");
    Sweep few = SyntheticSweep.of(SyntheticSweep.even(1e9, 2e9, 7), 1e-9, 0, 0);
    assertThatThrownBy(() -> TimeDomain.ofReflection(few, Window.hann(), CABLE))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("points");
    assertThatThrownBy(() -> Window.kaiser(31)).hasMessageContaining("beta");
    assertThatThrownBy(() -> Window.kaiser(Double.NaN)).hasMessageContaining("beta");
  }

  /** S11 from 2 to 18 GHz of reflections at places, m, of given sizes, in turn. */
  private static Sweep reflections(int points, double... placesAndSizes) {
    double[] hertz = SyntheticSweep.even(2e9, 18e9, points);
    double[] re = new double[points];
    double[] im = new double[points];
    for (int k = 0; k < points; k++) {
      for (int i = 0; i < placesAndSizes.length; i += 2) {
        Complex wave =
            Complex.ofPolarDeg(
                placesAndSizes[i + 1],
                -720 * hertz[k] * placesAndSizes[i] / CABLE.metresPerSecond());
        re[k] += wave.re();
        im[k] += wave.im();
      }
    }
    return Sweep.of(hertz, re, im);
  }

  private static TimeDomain view(String file, Method method, double velocityFactor)
      throws IOException {
    try (InputStream stream = TimeDomainTest.class.getResourceAsStream("/lines/" + file)) {
      return TimeDomain.ofReflection(
          TouchstoneReader.read(
                  Objects.requireNonNull(stream, file),
                  TouchstoneReader.portsOfFileName(file),
                  ReadLimits.USUAL)
              .sweep(method),
          Window.kaiser(6),
          VelocityFactor.of(velocityFactor));
    }
  }
}
