package org.equiphase.array;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/**
 * Validation of planar arrays: the factor of a grid whose errors are those of its row plus those of
 * its column is the product of two linear ones (pattern multiplication, any array text).
 */
class PlanarEffectTest {

  @Test
  void separableErrorsMultiplyTheLinearPatterns() {
    Random random = new Random(3);
    int rows = 12;
    int columns = 10;
    double[] rowTaper = Taper.taylor(rows, -25, 4);
    double[] columnTaper = Taper.chebyshev(columns, -22);
    double[] rowErrors = ArrayEffectTest.normal(random, rows, 8);
    double[] columnErrors = ArrayEffectTest.normal(random, columns, 8);
    double[] errors = new double[rows * columns];
    for (int n = 0; n < errors.length; n++) {
      errors[n] = rowErrors[n / columns] + columnErrors[n % columns];
    }
    PlanarEffect effect =
        PlanarEffect.of(
            PlanarArray.ofGrid(
                rows, columns, 0.5, 0.45, PlanarArray.product(rowTaper, columnTaper)),
            0,
            0,
            errors);

    ArrayEffect alongY = ArrayEffect.of(LinearArray.ofSpacing(0.5, rowTaper), 0, rowErrors);
    ArrayEffect alongX = ArrayEffect.of(LinearArray.ofSpacing(0.45, columnTaper), 0, columnErrors);
    assertThat(effect.gainLossDb())
        .isCloseTo(alongX.gainLossDb() + alongY.gainLossDb(), within(1e-9));
    assertThat(effect.peakGainLossDb())
        .isCloseTo(alongX.peakGainLossDb() + alongY.peakGainLossDb(), within(1e-9));
    assertThat(effect.peakSidelobeDb().orElseThrow())
        .isCloseTo(
            Math.max(alongX.peakSidelobeDb().orElseThrow(), alongY.peakSidelobeDb().orElseThrow()),
            within(1e-7));
    double u = Math.sin(Math.toRadians(alongX.beamShiftDeg()));
    double v = Math.sin(Math.toRadians(alongY.beamShiftDeg()));
    assertThat(effect.peakThetaDeg())
        .isCloseTo(Math.toDegrees(Math.asin(Math.hypot(u, v))), within(1e-7));
    assertThat(effect.peakPhiDeg()).isCloseTo(Math.toDegrees(Math.atan2(v, u)), within(1e-5));
    assertThat(effect.beamShiftDeg()).isCloseTo(effect.peakThetaDeg(), within(1e-9));
  }

  @Test
  void scatteredElementsAgreeWithADenseScan() {
    Random random = new Random(5);
    int elements = 30;
    double[] x = random.doubles(elements, 0, 3).toArray();
    double[] y = random.doubles(elements, 0, 3).toArray();
    double[] taper = random.doubles(elements, 0.5, 1).toArray();
    double[] errors = ArrayEffectTest.normal(random, elements, 25);
    PlanarEffect effect = PlanarEffect.of(PlanarArray.ofPositions(x, y, taper), 30, 120, errors);

    double u0 = Math.sin(Math.toRadians(30)) * Math.cos(Math.toRadians(120));
    double v0 = Math.sin(Math.toRadians(30)) * Math.sin(Math.toRadians(120));
    int half = 500;
    double[][] power = new double[2 * half + 1][2 * half + 1];
    double peak = 0;
    int peakI = 0;
    int peakJ = 0;
    for (int j = 0; j < power.length; j++) {
      for (int i = 0; i < power.length; i++) {
        double u = (i - half) / (double) half;
        double v = (j - half) / (double) half;
        power[j][i] = u * u + v * v > 1 ? -1 : power(x, y, taper, u - u0, v - v0, errors);
        if (power[j][i] > peak) {
          peak = power[j][i];
          peakI = i;
          peakJ = j;
        }
      }
    }
    double second = 0;
    for (int j = 1; j < 2 * half; j++) {
      for (int i = 1; i < 2 * half; i++) {
        if (power[j][i] >= 0 && Math.hypot(i - peakI, j - peakJ) > 3 && isTop(power, i, j)) {
          second = Math.max(second, power[j][i]);
        }
      }
    }
    double sum = java.util.Arrays.stream(taper).sum();
    // Steps of 0.002 miss a top 3 wavelengths wide by less than 0.002 dB; the rim by more.
    assertThat(effect.peakGainLossDb())
        .isCloseTo(-10 * Math.log10(peak / (sum * sum)), within(2e-3));
    assertThat(effect.peakSidelobeDb().orElseThrow())
        .isCloseTo(10 * Math.log10(second / peak), within(0.02));
    assertThat(effect.gainLossDb())
        .isCloseTo(-10 * Math.log10(power(x, y, taper, 0, 0, errors) / (sum * sum)), within(1e-9));
  }

  private static boolean isTop(double[][] power, int i, int j) {
    for (int b = j - 1; b <= j + 1; b++) {
      for (int a = i - 1; a <= i + 1; a++) {
        if (power[b][a] > power[j][i]) {
          return false;
        }
      }
    }
    return true;
  }

  private static double power(
      double[] x, double[] y, double[] taper, double du, double dv, double[] errors) {
    double re = 0;
    double im = 0;
    for (int n = 0; n < x.length; n++) {
      double radians = 2 * Math.PI * (x[n] * du + y[n] * dv) + Math.toRadians(errors[n]);
      re += taper[n] * Math.cos(radians);
      im += taper[n] * Math.sin(radians);
    }
    return re * re + im * im;
  }

  @Test
  void steersWithoutErrorsExactly() {
    PlanarArray array = PlanarArray.ofGrid(8, 8, 0.5, 0.5, Taper.uniform(64));

    PlanarEffect effect = PlanarEffect.of(array, 25, -70, new double[64]);

    assertThat(effect.beamShiftDeg()).isCloseTo(0, within(1e-6));
    assertThat(effect.peakThetaDeg()).isCloseTo(25, within(1e-8));
    assertThat(effect.peakPhiDeg()).isCloseTo(-70, within(1e-8));
    // The uniform line of eight's own, in a plane of the grid.
    assertThat(effect.idealPeakSidelobeDb().orElseThrow()).isCloseTo(-12.797, within(6e-4));
  }

  @Test
  void aGratingLobeOnTheRimCounts() {
    // At a whole wavelength ±u and ±v endfire repeat the main lobe.
    PlanarArray array = PlanarArray.ofGrid(4, 4, 1, 1, Taper.uniform(16));

    PlanarEffect effect = PlanarEffect.of(array, 0, 0, new double[16]);

    assertThat(effect.beamShiftDeg()).isCloseTo(0, within(1e-6));
    assertThat(effect.idealPeakSidelobeDb().orElseThrow()).isCloseTo(0, within(1e-6));
  }

  @Test
  void badInputIsNamed() {
    double[] ones = Taper.uniform(4);
    assertRefused("rows", () -> PlanarArray.ofGrid(1, 4, 0.5, 0.5, ones));
    assertRefused("columns", () -> PlanarArray.ofGrid(4, 1, 0.5, 0.5, ones));
    assertRefused("taper", () -> PlanarArray.ofGrid(2, 3, 0.5, 0.5, ones));
    assertRefused("rowSpacingWavelengths", () -> PlanarArray.ofGrid(2, 2, 0, 0.5, ones));
    assertRefused("columnSpacingWavelengths", () -> PlanarArray.ofGrid(2, 2, 0.5, 1e5, ones));
    assertRefused(
        "yWavelengths",
        () -> PlanarArray.ofPositions(new double[] {0, 1, 2, 3}, new double[] {0, 2, 4, 6}, ones));
    assertRefused("xWavelengths", () -> PlanarArray.ofPositions(new double[3], ones, ones));
    PlanarArray array = PlanarArray.ofGrid(2, 2, 0.5, 0.5, ones);
    assertRefused("thetaDeg", () -> PlanarEffect.of(array, -1, 0, new double[4]));
    assertRefused("phiDeg", () -> PlanarEffect.of(array, 1, 400, new double[4]));
    assertRefused("phaseErrorDeg", () -> PlanarEffect.of(array, 1, 0, new double[3]));
  }

  private static void assertRefused(
      String field, org.assertj.core.api.ThrowableAssert.ThrowingCallable call) {
    assertThatThrownBy(call)
        .isInstanceOfSatisfying(
            InvalidQuantityException.class, e -> assertThat(e.field()).isEqualTo(field));
  }
}
