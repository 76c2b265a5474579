package org.equiphase.rf.touchstone;

import java.io.IOException;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import org.equiphase.rf.Complex;

/**
 * Writes Touchstone files, strictly by the format, always S-parameters. Numbers have as many digits
 * as it takes to read the same ones back.
 */
public final class TouchstoneWriter {
  private static final int PAIRS_PER_LINE = 4;

  private final TouchstoneFile file;
  private final WriteOptions options;
  private final Appendable out;

  private TouchstoneWriter(TouchstoneFile file, WriteOptions options, Appendable out) {
    this.file = file;
    this.options = options;
    this.out = out;
  }

  /**
   * Writes a file.
   *
   * @throws TouchstoneException if version 1 can't say what the file holds: unlike reference
   *     resistances, or noise parameters that begin above the network data's last frequency
   * @throws IOException if {@code out} fails
   */
  public static void write(TouchstoneFile file, WriteOptions options, Appendable out)
      throws IOException {
    new TouchstoneWriter(file, options, out).write();
  }

  private void write() throws IOException {
    boolean keywords = options.version() != TouchstoneVersion.V1;
    if (!keywords) {
      requireVersion1();
    }
    for (String comment : file.comments()) {
      // The format is ASCII, comments included.
      line("! " + comment.replaceAll("[^ -~]", "?"));
    }
    if (keywords) {
      line(Keyword.VERSION.text() + " " + options.version().number());
    }
    double[] ohms = file.referenceOhms();
    line("# " + options.unit().symbol() + " S " + options.format() + " R " + ohms[0]);
    if (keywords) {
      writeKeywords(ohms);
    }
    for (int point = 0; point < file.points(); point++) {
      writePoint(point);
    }
    if (keywords && !file.noise().isEmpty()) {
      line(Keyword.NOISE_DATA.text());
    }
    for (NoisePoint noise : file.noise()) {
      writeNoise(noise, keywords ? 1 : ohms[0]);
    }
    if (keywords) {
      line(Keyword.END.text());
    }
  }

  private void requireVersion1() {
    if (Arrays.stream(file.referenceOhms()).distinct().count() > 1) {
      throw new TouchstoneException(0, "reference", "unlike reference resistances need version 2");
    }
    if (!file.noise().isEmpty()
        && file.noise().get(0).frequencyHz() >= file.frequencyHz(file.points() - 1)) {
      throw new TouchstoneException(
          0,
          "noise data",
          "must begin below the last frequency of the network data in version 1; use version 2");
    }
  }

  private void writeKeywords(double[] ohms) throws IOException {
    line(Keyword.NUMBER_OF_PORTS.text() + " " + file.ports());
    if (file.ports() == 2) {
      line(Keyword.TWO_PORT_DATA_ORDER.text() + " 21_12");
    }
    line(Keyword.NUMBER_OF_FREQUENCIES.text() + " " + file.points());
    if (!file.noise().isEmpty()) {
      line(Keyword.NUMBER_OF_NOISE_FREQUENCIES.text() + " " + file.noise().size());
    }
    StringBuilder reference = new StringBuilder(Keyword.REFERENCE.text());
    for (double ohm : ohms) {
      reference.append(' ').append(ohm);
    }
    line(reference.toString());
    line(Keyword.NETWORK_DATA.text());
  }

  private void writePoint(int point) throws IOException {
    int ports = file.ports();
    StringBuilder text = new StringBuilder(frequency(file.frequencyHz(point)));
    if (ports <= 2) {
      for (int column = 1; column <= ports; column++) {
        for (int row = 1; row <= ports; row++) {
          append(text, file.s(point, row, column));
        }
      }
      line(text.toString());
      return;
    }
    for (int row = 1; row <= ports; row++) {
      for (int column = 1; column <= ports; column++) {
        if (column > 1 && (column - 1) % PAIRS_PER_LINE == 0) {
          line(text.toString());
          text.setLength(0);
        }
        append(text, file.s(point, row, column));
      }
      line(text.toString());
      text.setLength(0);
    }
  }

  private void writeNoise(NoisePoint noise, double resistanceUnitOhm) throws IOException {
    List<Double> values =
        List.of(
            noise.minimumNoiseFigureDb(),
            noise.optimumSource().abs(),
            noise.optimumSource().argumentDeg(),
            noise.noiseResistanceOhm() / resistanceUnitOhm);
    StringBuilder text = new StringBuilder(frequency(noise.frequencyHz()));
    for (double value : values) {
      text.append(' ').append(value);
    }
    line(text.toString());
  }

  private void append(StringBuilder text, Complex value) {
    text.append(' ').append(options.format().firstOf(value));
    text.append(' ').append(options.format().secondOf(value));
  }

  /** The frequency in its unit, shifted in decimal so that nothing is rounded. */
  private String frequency(double hertz) {
    return new BigDecimal(Double.toString(hertz))
        .movePointLeft(options.unit().powerOfTen())
        .stripTrailingZeros()
        .toPlainString();
  }

  private void line(String text) throws IOException {
    out.append(text).append('\n');
  }
}
