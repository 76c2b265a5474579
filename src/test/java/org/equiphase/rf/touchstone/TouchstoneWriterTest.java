package org.equiphase.rf.touchstone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.Test;

class TouchstoneWriterTest {

  @Property(tries = 300, seed = "1")
  void aFileWrittenAndReadAgainIsEqual(
      @ForAll @IntRange(min = 1, max = 6) int ports,
      @ForAll @IntRange(min = 1, max = 9) int points,
      @ForAll TouchstoneVersion version,
      @ForAll NumberFormat format,
      @ForAll FrequencyUnit unit,
      @ForAll int seed)
      throws IOException {
    boolean unlike = version != TouchstoneVersion.V1;
    TouchstoneFile file = random(new Random(seed), ports, points, unlike);

    TouchstoneFile again = roundTrip(file, new WriteOptions(version, format, unit));

    assertThat(again.version()).isEqualTo(version);
    assertThat(again.warnings()).isEmpty();
    assertThat(again.referenceOhms()).containsExactly(file.referenceOhms());
    assertThat(again.frequenciesHz()).containsExactly(file.frequenciesHz());
    // Pairs of real and imaginary parts come back bit by bit, others within their conversion.
    double tolerance = format == NumberFormat.RI ? 0 : 1e-13;
    for (int point = 0; point < points; point++) {
      for (int row = 1; row <= ports; row++) {
        for (int column = 1; column <= ports; column++) {
          Complex before = file.s(point, row, column);
          Complex after = again.s(point, row, column);
          assertThat(after.minus(before).abs()).isLessThanOrEqualTo(tolerance * before.abs());
        }
      }
    }
    assertThat(again.noise()).hasSameSizeAs(file.noise());
    for (int i = 0; i < file.noise().size(); i++) {
      NoisePoint before = file.noise().get(i);
      NoisePoint after = again.noise().get(i);
      assertThat(after.frequencyHz()).isEqualTo(before.frequencyHz());
      assertThat(after.minimumNoiseFigureDb()).isEqualTo(before.minimumNoiseFigureDb());
      assertThat(after.noiseResistanceOhm())
          .isCloseTo(before.noiseResistanceOhm(), within(1e-13 * before.noiseResistanceOhm()));
      assertThat(after.optimumSource().minus(before.optimumSource()).abs()).isLessThan(1e-15);
    }
  }

  @Test
  void whatVersion1CannotSayIsRefused() {
    Random random = new Random(1);
    TouchstoneFile unlike = random(random, 2, 1, true);
    TouchstoneFile noisy =
        TouchstoneFile.of(
            new double[] {50, 50},
            new double[] {1e9},
            new Complex[][][] {matrix(random, 2)},
            List.of(new NoisePoint(2e9, 1, Complex.ZERO, 10)));

    assertThat(refusal(unlike)).hasMessageContaining("version 2");
    assertThat(refusal(noisy)).hasMessageContaining("version 2");
  }

  @Test
  void zeroHasALogarithmThatReadsBackAsNothing() throws IOException {
    TouchstoneFile file =
        TouchstoneFile.of(
            new double[] {50}, new double[] {0}, new Complex[][][] {{{Complex.ZERO}}}, List.of());

    TouchstoneFile again =
        roundTrip(file, new WriteOptions(TouchstoneVersion.V1, NumberFormat.DB, FrequencyUnit.GHZ));

    assertThat(again.s(0, 1, 1).abs()).isLessThan(1e-29);
  }

  @Test
  void partsThatDoNotFitAreRefused() {
    Complex[][][] one = {{{Complex.ONE}}};
    double[] fifty = {50};

    assertThat(fault(new double[0], new double[] {1}, one)).hasMessageContaining("ports");
    assertThat(fault(new double[] {-50}, new double[] {1}, one)).hasMessageContaining("-50");
    assertThat(fault(fifty, new double[] {1, 2}, one)).hasMessageContaining("2 frequencies");
    assertThat(fault(fifty, new double[] {-1}, one)).hasMessageContaining("-1");
    assertThat(fault(new double[] {50, 50}, new double[] {1}, one)).hasMessageContaining("2 by 2");
    assertThat(fault(fifty, new double[] {1}, new Complex[][][] {{{Complex.of(Double.NaN, 0)}}}))
        .hasMessageContaining("S11");
  }

  private static TouchstoneException fault(double[] ohm, double[] hertz, Complex[][][] s) {
    return catchThrowableOfType(
        TouchstoneException.class, () -> TouchstoneFile.of(ohm, hertz, s, List.of()));
  }

  private static TouchstoneException refusal(TouchstoneFile file) {
    return catchThrowableOfType(
        TouchstoneException.class, () -> roundTrip(file, WriteOptions.USUAL));
  }

  private static TouchstoneFile roundTrip(TouchstoneFile file, WriteOptions options)
      throws IOException {
    StringBuilder text = new StringBuilder();
    TouchstoneWriter.write(file, options, text);
    return TouchstoneReaderTest.read(text.toString(), file.ports());
  }

  private static TouchstoneFile random(Random random, int ports, int points, boolean unlike) {
    double[] ohms = new double[ports];
    double common = 1 + 100 * random.nextDouble();
    for (int port = 0; port < ports; port++) {
      ohms[port] = unlike ? 1 + 100 * random.nextDouble() : common;
    }
    double[] frequencyHz = new double[points];
    Complex[][][] s = new Complex[points][][];
    double hertz = 1e6;
    for (int point = 0; point < points; point++) {
      hertz += 1 + random.nextDouble() * 1e8;
      frequencyHz[point] = hertz;
      s[point] = matrix(random, ports);
    }
    List<NoisePoint> noise = new ArrayList<>();
    if (ports == 2) {
      for (int i = 1; i < points; i++) {
        noise.add(
            new NoisePoint(
                frequencyHz[i] / 2 + i,
                random.nextDouble(),
                Complex.ofPolarDeg(random.nextDouble(), 360 * random.nextDouble()),
                100 * random.nextDouble()));
      }
    }
    return TouchstoneFile.of(ohms, frequencyHz, s, noise);
  }

  private static Complex[][] matrix(Random random, int ports) {
    Complex[][] matrix = new Complex[ports][ports];
    for (Complex[] row : matrix) {
      for (int column = 0; column < ports; column++) {
        row[column] = Complex.of(random.nextGaussian(), random.nextGaussian());
      }
    }
    return matrix;
  }
}
