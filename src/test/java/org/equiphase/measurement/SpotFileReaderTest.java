package org.equiphase.measurement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.stream.IntStream;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.web.InvalidInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * CSV files of phases at single frequencies: those that will do, and what is said of the others.
 */
class SpotFileReaderTest {

  @Test
  void allColumns() {
    SpotFile file =
        read(
            """
            serial,temperature_c,frequency_ghz,phase_deg,insertion_loss_db,vswr
            A-1,22.5,2.8,-12.25,1.21,1.08
            A-1,22.5,2.9,101.5,1.24,1.09
            """);
    assertThat(file.serial()).isEqualTo("A-1");
    assertThat(file.temperatureC()).isEqualTo(22.5);
    assertThat(file.spots())
        .containsExactly(
            new TypedSpot(2.8e9, -12.25, 1.21, 1.08), new TypedSpot(2.9e9, 101.5, 1.24, 1.09));
  }

  @Test
  void onlyWhatMustBeThere() {
    SpotFile file = read("frequency_hz,phase_deg\n2800000000,-12.25");
    assertThat(file.serial()).isNull();
    assertThat(file.temperatureC()).isNull();
    assertThat(file.spots()).containsExactly(new TypedSpot(2.8e9, -12.25, null, null));
  }

  @Test
  void semicolonsAllowADecimalComma() {
    SpotFile file =
        read("\uFEFFFrequency_MHz; Phase_deg; VSWR\r\n2800,5; −12,25; 1.08\r\n\r\n2900; 1e1;\r\n");
    assertThat(file.spots())
        .containsExactly(
            new TypedSpot(2.8005e9, -12.25, null, 1.08), new TypedSpot(2.9e9, 10, null, null));
    assertThat(file.lines()).containsExactly(2L, 4L);
  }

  /** 2.76 · 10⁹ is no whole number in binary floating point; the file means one. */
  @Test
  void frequenciesAreWholeHertzWhereTheFileMeansSo() {
    for (int mhz = 1; mhz < 20_000; mhz += 7) {
      String ghz = mhz / 1000 + "." + String.format("%03d", mhz % 1000);
      SpotFile file = read("frequency_ghz,phase_deg\n" + ghz + ",0");
      assertThat(file.spots().get(0).frequencyHz()).isEqualTo(mhz * 1e6);
    }
  }

  /** Serial and temperature may stand in one line only. */
  @Test
  void whatHoldsForAllMayStandInOneLine() {
    SpotFile file = read("serial,temperature_c,frequency_ghz,phase_deg\n,,2.8,1\nA-1,22,2.9,2\n");
    assertThat(file.serial()).isEqualTo("A-1");
    assertThat(file.temperatureC()).isEqualTo(22);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "''                                                   | is empty",
        "frequency_ghz,phase_deg                              | no line below its headings",
        "frequency_ghz,phase\\n2.8,1                          | line 1 has the heading \"phase\"",
        "frequency_ghz\\n2.8                                  | lacks the heading phase_deg",
        "phase_deg\\n1                                        | 0 headings of frequencies",
        "frequency_hz,frequency_ghz,phase_deg\\n2e9,2,1       | 2 headings of frequencies",
        "frequency_ghz,phase_deg,phase_deg\\n2.8,1,1          | \"phase_deg\" twice",
        "frequency_ghz,phase_deg\\n2.8,1\\n2.9                | line 3 has 1 cells",
        "frequency_ghz,phase_deg\\n2.8,1,5                    | line 2 has 3 cells",
        "frequency_ghz,phase_deg\\n2.8,1\\n2.9,x              | line 3, column phase_deg: \"x\"",
        "frequency_ghz,phase_deg\\n2.8,                       | line 2, column phase_deg: is empty",
        "frequency_ghz,phase_deg\\n2.8 GHz,1                  | line 2, column frequency_ghz",
        "frequency_ghz,phase_deg\\n2.8,\"1,5\"                | line 2, column phase_deg: \"1,5\"",
        "frequency_mhz;phase_deg\\n2.800,5;1                  | line 2, column frequency_mhz",
        "frequency_ghz,phase_deg\\n2.8,NaN                    | line 2, column phase_deg",
        "frequency_ghz,phase_deg\\n2.8,1\\n\\n2.8,2           | line 4, column frequency_ghz: is that of line 2",
        "serial,frequency_ghz,phase_deg\\nA,2.8,1\\nB,2.9,1   | line 3, column serial: is B",
        "temperature_c,frequency_ghz,phase_deg\\n22,2.8,1\\n23,2.9,1 | column temperature_c: is 23.0",
        "frequency_ghz,phase_deg\\n2.8,\"1                    | quotes that are not closed",
        "# GHZ S RI R 50\\n2.8 1 0                            | line 1 has the heading",
      })
  void badFiles(String text, String expected) {
    assertThatThrownBy(() -> read(text.replace("\\n", "\n")))
        .isInstanceOf(InvalidInputException.class)
        .hasMessageStartingWith("file: ")
        .hasMessageContaining(expected);
  }

  @Test
  void noText() {
    byte[] sheet = {'P', 'K', 3, 4, (byte) 0xff, (byte) 0xfe};
    assertThatThrownBy(() -> SpotFileReader.read(sheet)).hasMessageContaining("UTF-8");
  }

  @Test
  void tooManyLines() {
    StringBuilder text = new StringBuilder("frequency_mhz,phase_deg\n");
    IntStream.rangeClosed(1, 1001).forEach(i -> text.append(i).append(",0\n"));
    assertThatThrownBy(() -> read(text.toString())).hasMessageContaining("more than 1000 lines");
  }

  private static SpotFile read(String text) {
    return SpotFileReader.read(text.getBytes(StandardCharsets.UTF_8));
  }
}
