package org.equiphase.rf.touchstone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.StringReader;
import java.util.OptionalInt;
import org.equiphase.rf.Complex;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.Method;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TouchstoneReaderTest {
  private static final String HEADER_2 =
      """
      [Version] 2.0
      # GHz S RI
      [Number of Ports] 2
      [Two-Port Data Order] 12_21
      [Number of Frequencies] 1
      """;

  @ParameterizedTest
  @CsvSource({
    "# Hz S RI R 50, 0.7",
    "# khz s ri r 50, 700",
    "#MHZ RI, 700000",
    "# R 75 RI S GHz, 700000000",
    "# RI, 700000000",
    "'#\tGHz\tRI\tR\t1e2', 700000000",
  })
  void unitsAndOptionsInAnyOrderAndCase(String options, double hertz) throws IOException {
    TouchstoneFile file = read(options + "\n0.7 0.5 -0.25\n", 1);

    assertThat(file.frequencyHz(0)).isEqualTo(hertz);
    assertThat(file.s(0, 1, 1)).isEqualTo(Complex.of(0.5, -0.25));
  }

  @ParameterizedTest
  @ValueSource(strings = {"#\n1 0.5 90\n", "# MA\n1 0.5 90\n", "# DB\n1 -6.020599913279624 90\n"})
  void formats(String text) throws IOException {
    TouchstoneFile file = read(text, 1);

    assertThat(file.frequencyHz(0)).isEqualTo(1e9);
    assertThat(file.s(0, 1, 1).re()).isCloseTo(0, within(1e-15));
    assertThat(file.s(0, 1, 1).im()).isCloseTo(0.5, within(1e-15));
  }

  @Test
  void aMissingOptionLineIsPutUpWith() throws IOException {
    TouchstoneFile file = read("1 0.5 90\n", 1);

    assertThat(file.frequencyHz(0)).isEqualTo(1e9);
    assertThat(file.warnings()).singleElement().asString().contains("no option line");
  }

  @Test
  void commentsLineEndsBlanksMarksAndLaterOptionsAreAllowed() throws IOException {
    String text =
        "\uFEFF! first [Version] # 9\r\n!\r\n\r\n# MHz S RI R 50 ! options\r\n"
            + "# GHz S DB R 1\r  1\t+.5 -2.5E-1 ! data\n\n! Grüße\n2 0.5 1.0D-1\u001A binary";

    TouchstoneFile file = read(text, 1);

    assertThat(file.frequenciesHz()).containsExactly(1e6, 2e6);
    assertThat(file.s(0, 1, 1)).isEqualTo(Complex.of(0.5, -0.25));
    assertThat(file.s(1, 1, 1)).isEqualTo(Complex.of(0.5, 0.1));
    assertThat(file.comments()).containsExactly("first [Version] # 9", "");
  }

  @Test
  void decimalFrequenciesStayDecimal() throws IOException {
    TouchstoneFile file = read("# GHz RI\n0.1 0 0\n0.3 0 0\n0.7015 0 0\n95.0125e-2 0 0\n", 1);

    assertThat(file.frequenciesHz()).containsExactly(100e6, 300e6, 701_500_000, 950_125_000);
  }

  @Test
  void referencesPerPortOnTheOptionLine() throws IOException {
    TouchstoneFile file = read("# GHz S RI R 50 75\n1 1 0 2 0 3 0 4 0\n", 2);

    assertThat(file.referenceOhms()).containsExactly(50, 75);
    assertThat(fault("# GHz S RI R 50 75 100\n1 1 0 2 0 3 0 4 0\n", 2))
        .hasMessageContaining("3 resistances");
    assertThat(fault("# GHz Z RI R 50 75\n1 1 0 2 0 3 0 4 0\n", 2))
        .hasMessageContaining("normalised");
  }

  @Test
  void portsOfVersion1ComeFromTheNameOrTheFirstLine() throws IOException {
    assertThat(readOfUnknownPorts("# RI\n1 1 0\n").ports()).isEqualTo(1);
    assertThat(readOfUnknownPorts("# RI\n1 1 0 2 0 3 0 4 0\n").ports()).isEqualTo(2);
    assertThat(TouchstoneReader.portsOfFileName("a.b.S2P")).hasValue(2);
    assertThat(TouchstoneReader.portsOfFileName("x.s12p")).hasValue(12);
    assertThat(TouchstoneReader.portsOfFileName("x.ts")).isEmpty();
    assertThat(TouchstoneReader.portsOfFileName("x.s2p.txt")).isEmpty();
  }

  @Test
  void matricesOfFivePortsWrap() throws IOException {
    StringBuilder text = new StringBuilder("# RI\n1 ");
    for (int row = 1; row <= 5; row++) {
      text.append("%d1 0 %d2 0 %d3 0 %d4 0%n%d5 0%n".formatted(row, row, row, row, row));
    }
    TouchstoneFile file = read(text.toString(), 5);

    assertThat(file.s(0, 1, 5).re()).isEqualTo(15);
    assertThat(file.s(0, 4, 2).re()).isEqualTo(42);
    String cut = text.substring(0, text.indexOf("31 0"));
    assertThat(fault(cut, 5)).hasMessageContaining("cut off");
    assertThat(fault(cut + "2 11 0\n", 5)).hasMessageContaining("still lacks");
  }

  @Test
  void dataOrderOfVersion2() throws IOException {
    String data = "[Network Data]\n1 11 0 12 0 21 0 22 0\n[End]\n";
    assertThat(read(HEADER_2 + data, 2).s(0, 1, 2).re()).isEqualTo(12);
    assertThat(read(HEADER_2.replace("12_21", "21_12") + data, 2).s(0, 2, 1).re()).isEqualTo(12);

    TouchstoneFile orderless =
        read(HEADER_2.replace("[Two-Port Data Order] 12_21\n", "") + data, 2);
    assertThat(orderless.s(0, 2, 1).re()).isEqualTo(12);
    assertThat(orderless.warnings()).singleElement().asString().contains("21_12 was taken");
  }

  @Test
  void triangularMatricesInformationAndWrappedReferences() throws IOException {
    String header =
        """
        ! comment
        [version] 2.1
        # Hz s ri
        [NUMBER OF PORTS] 3
        [Number of Frequencies] 1
        [Reference] 50 ! one here
        75
        100
        [Matrix Format] %s
        [Mixed-Mode Order] S1 S2 S3
        [Begin Information]
        anything [Network Data] 1 2 3
        [End Information]
        [Network Data]
        """;
    TouchstoneFile lower =
        read(header.formatted("Lower") + "0 11 0\n21 0 22 0\n31 0 32 0 33 0\n[End]\n", 3);
    TouchstoneFile upper =
        read(header.formatted("upper") + "0 11 0 21 0 31 0\n22 0 32 0\n33 0\n[End]\n", 3);

    assertThat(lower.referenceOhms()).containsExactly(50, 75, 100);
    assertThat(lower.version()).isEqualTo(TouchstoneVersion.V2_1);
    for (TouchstoneFile file : new TouchstoneFile[] {lower, upper}) {
      assertThat(file.s(0, 3, 2).re()).isEqualTo(32);
      assertThat(file.s(0, 2, 3).re()).isEqualTo(32);
      assertThat(file.s(0, 1, 3).re()).isEqualTo(31);
      assertThat(file.frequencyHz(0)).isZero();
    }
  }

  @Test
  void aMissingEndAndTextBehindItArePutUpWith() throws IOException {
    String data = "[Network Data]\n1 11 0 12 0 21 0 22 0\n";

    assertThat(read(HEADER_2 + data, 2).warnings()).singleElement().asString().contains("[End]");
    assertThat(read(HEADER_2 + data + "[End]\nrest\nrest\n", 2).warnings())
        .containsExactly("what follows [End] was left out");
  }

  /** One network as Z, Y, H and G (definitions of two-port parameters), all the same S. */
  @Test
  void otherParametersBecomeS() throws IOException {
    // Z = [[60, 20], [20, 45]] ohm: det 2300; the others by their definitions from it.
    String z = "1 60 0 20 0 20 0 45 0\n";
    String y =
        "1 %s 0 %s 0 %s 0 %s 0\n".formatted(45 / 2300.0, -20 / 2300.0, -20 / 2300.0, 60 / 2300.0);
    String h = "1 %s 0 %s 0 %s 0 %s 0\n".formatted(2300 / 45.0, 20 / 45.0, -20 / 45.0, 1 / 45.0);
    String g = "1 %s 0 %s 0 %s 0 %s 0\n".formatted(1 / 60.0, -20 / 60.0, 20 / 60.0, 2300 / 60.0);
    String header = HEADER_2.replace("# GHz S", "# GHz %s") + "[Reference] 50 25\n[Network Data]\n";
    // S from Z with references 50 and 25: (Z + R) has the determinant 110·70 − 400 = 7300.
    double s11 = (10 * 70 - 400) / 7300.0;
    double s21 = 2 * 20 * Math.sqrt(50 * 25) / 7300;
    double s22 = (110 * 20 - 400) / 7300.0;

    for (String[] kind : new String[][] {{"Z", z}, {"Y", y}, {"H", h}, {"G", g}}) {
      TouchstoneFile file = read(header.formatted(kind[0]) + kind[1] + "[End]\n", 2);
      assertThat(file.s(0, 1, 1).re()).as(kind[0]).isCloseTo(s11, within(1e-14));
      assertThat(file.s(0, 2, 1).re()).as(kind[0]).isCloseTo(s21, within(1e-14));
      assertThat(file.s(0, 1, 2).re()).as(kind[0]).isCloseTo(s21, within(1e-14));
      assertThat(file.s(0, 2, 2).re()).as(kind[0]).isCloseTo(s22, within(1e-14));
    }
  }

  @Test
  void version1NormalisesOtherParametersToR() throws IOException {
    // Z = [[60, 20], [20, 45]] ohm over R = 50, and its h-parameters.
    TouchstoneFile z = read("# Z RI R 50\n1 1.2 0 0.4 0 0.4 0 0.9 0\n", 2);
    String hData = "1 %s 0 %s 0 %s 0 %s 0\n".formatted(46 / 45.0, -20 / 45.0, 20 / 45.0, 50 / 45.0);
    TouchstoneFile h = read("# H RI R 50\n" + hData, 2);

    assertThat(z.s(0, 1, 1).re()).isCloseTo((10 * 95 - 400) / 10050.0, within(1e-14));
    assertThat(h.s(0, 1, 1).re()).isCloseTo(z.s(0, 1, 1).re(), within(1e-14));
    assertThat(h.s(0, 2, 1).re()).isCloseTo(z.s(0, 2, 1).re(), within(1e-14));
    assertThat(h.s(0, 2, 2).re()).isCloseTo(z.s(0, 2, 2).re(), within(1e-14));
  }

  @Test
  void sweepsTakeTheParameterOfTheirMethod() throws IOException {
    TouchstoneFile twoPort = read("# RI\n1 .11 0 .21 0 .12 0 .22 0\n", 2);
    TouchstoneFile onePort = read("# RI R 75\n1 .11 0\n", 1);

    assertThat(twoPort.sweep(Method.TRANSMISSION).value(0).re()).isEqualTo(.21);
    assertThat(twoPort.sweep(Method.REFLECTION_OPEN).value(0).re()).isEqualTo(.11);
    assertThat(onePort.sweep(Method.REFLECTION_SHORT).referenceOhm()).isEqualTo(75);
    InvalidQuantityException refusal =
        catchThrowableOfType(
            InvalidQuantityException.class, () -> onePort.sweep(Method.TRANSMISSION));
    assertThat(refusal.field()).isEqualTo("file");
    assertThat(refusal).hasMessageContaining(".s2p");
  }

  static TouchstoneFile read(String text, int ports) throws IOException {
    return TouchstoneReader.read(new StringReader(text), OptionalInt.of(ports), ReadLimits.USUAL);
  }

  static TouchstoneException fault(String text, int ports) {
    return catchThrowableOfType(TouchstoneException.class, () -> read(text, ports));
  }

  private static TouchstoneFile readOfUnknownPorts(String text) throws IOException {
    return TouchstoneReader.read(new StringReader(text), OptionalInt.empty(), ReadLimits.USUAL);
  }
}
