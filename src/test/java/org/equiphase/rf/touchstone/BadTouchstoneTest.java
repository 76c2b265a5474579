package org.equiphase.rf.touchstone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.OptionalInt;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Files that must be refused, with the line and the field that are to blame. */
class BadTouchstoneTest {
  private static final String V2 =
      "[Version] 2.0|# GHz S RI|[Number of Ports] 1|[Number of Frequencies] 1|"
          + "[Network Data]|1 1 0|[End]";

  /** Bars stand for line ends. */
  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "1; # RI|1 0 0|2 nan 0; 3; S11; no reading",
        "1; # RI|1 0 0|2 0 -Inf; 3; S11; no reading",
        "1; # RI|1 1e999 0; 2; S11; infinite",
        "1; # RI|1 9.91e37 0; 2; S11; no reading",
        "1; # RI|NaN 0 0; 2; frequency; no reading",
        "1; # RI|-1 0 0; 2; frequency; 0 or more",
        "1; # RI|2 0 0|1 0 0; 3; frequency; must ascend",
        "1; # RI|2 0 0|2 0 0; 3; frequency; must ascend",
        "1; # RI|1 0x1 0; 2; S11; not a number",
        "1; # RI|1 1f 0; 2; S11; not a number",
        "1; # RI|1 1,5 0; 2; S11; not a number",
        "1; # RI|1 1e5e5 0; 2; S11; not a number",
        "1; # RI|1 1e99999999999 0; 2; S11; not a number",
        "1; # RI|1 - 0; 2; S11; not a number",
        "1; # MA|1 -1 0; 2; S11; magnitude",
        "1; # DB|1 9000 0; 2; S11; too large",
        "1; # RI|1 0 0 0 0 0 0 0 0; 2; data; a file of 1 port has 3 per line",
        "2; # RI|1 0 0; 2; data; a file of 2 ports has 9 per line",
        "2; # RI|1 0 0 0 0 0 0 0 0|2 0 0 0; 3; data; cut off",
        "2; # RI|1 0 0 0 0 0 0 0 0|.5 0 0 0 0|.4 0 0 0 0; 4; frequency; noise",
        "2; # RI|1 0 0 0 0 0 0 0 0|.5 0 0 0 0|.6 0 0 0 0 0 0 0 0; 4; noise data; holds 9",
        "1; # RI; 1; data; no network data",
        "1; # RI|hello world again; 2; frequency; not a number",
        "1; # furlong RI|1 0 0; 1; option line; 'furlong' is not known",
        "1; # RI R|1 0 0; 1; option line; resistance in ohm",
        "1; # RI R 0|1 0 0; 1; option line; above 0",
        "1; # RI MA|1 0 0; 1; option line; second time",
        "1; 1 0 0|# RI; 2; option line; ahead of the data",
        "1; [Number of Ports] 1; 1; [Number of Ports]; [Version]",
        "1; # RI|1 0 0|[Version] 2.0; 3; [Version]; ahead of the data",
        "1; # RI|[Version] 2.0|1 0 0; 2; [Version]; first line",
        "1; [Version] 3.0; 1; [Version]; 2.0 and 2.1",
        "1; [Version] 2.0|#|[Number of Ports] 0; 3; [Number of Ports]; from 1",
        "1; [Version] 2.0|#|[Number of Ports] x; 3; [Number of Ports]; whole number",
        "1; [Version] 2.0|#|[Number of Ports] 2; 3; [Number of Ports]; name says 1",
        "1; [Version] 2.0|#|[Number of Pots] 1; 3; [Number of Pots]; is no keyword",
        "1; [Version] 2.0|#|[Number of Ports; 3; [Number of Ports; is no keyword",
        "1; [Version] 2.0|#|[Network Data]; 3; [Number of Ports]; missing",
        "1; [Version] 2.0|#|[Number of Ports] 1|[Network Data]; 4; [Number of Frequencies]; missing",
        "1; [Version] 2.0|#|[Number of Ports] 1|1 0 0; 4; data; ahead of [Network Data]",
        "1; [Version] 2.0|#|[Begin Information]|x; 4; [End Information]; missing",
        "1; [Version] 2.0|#|[End Information]; 3; [End Information]; no [Begin",
        "1; [Version] 2.0|#|[Matrix Format] Round; 3; [Matrix Format]; Full, Lower or Upper",
        "1; [Version] 2.0|#|[Two-Port Data Order] 11_22; 3; [Two-Port Data Order]; 12_21 or 21_12",
        "1; [Version] 2.0|#|[Mixed-Mode Order] D1,2 C1,2; 3; [Mixed-Mode Order]; single-ended",
        "1; [Version] 2.0|#|[Reference] 50|-75; 4; [Reference]; above 0",
        "1; [Version] 2.0|#|[Reference] 50|[Reference] 50; 4; [Reference]; second time",
      })
  void isRefusedWithLineAndField(int ports, String text, int line, String field, String says) {
    TouchstoneException fault = TouchstoneReaderTest.fault(text.replace('|', '\n') + "\n", ports);

    assertThat(fault).isNotNull();
    assertThat(fault.line()).isEqualTo(line);
    assertThat(fault.field()).isEqualTo(field);
    assertThat(fault).hasMessageContaining(says).hasMessageStartingWith("line " + line + ", ");
  }

  @ParameterizedTest
  @CsvSource({
    "[Number of Frequencies] 1, [Number of Frequencies] 2, [Number of Frequencies]",
    "[Network Data], [Number of Noise Frequencies] 1|[Network Data], [Number of Noise Frequencies]",
    "[End], [Noise Data], [Noise Data]",
    "[Network Data], [Reference] 50 50|[Network Data], [Reference]",
    "# GHz S, # GHz H, option line",
  })
  void aVersion2FileThatContradictsItselfIsRefused(String part, String changed, String field) {
    String text = V2.replace(part, changed).replace('|', '\n');

    assertThat(TouchstoneReaderTest.fault(text, 1).field()).isEqualTo(field);
  }

  @Test
  void theFileThatTheseAreMadeFromIsRead() {
    assertThatCode(() -> TouchstoneReaderTest.read(V2.replace('|', '\n'), 1))
        .doesNotThrowAnyException();
  }

  @Test
  void anEmptyFileIsRefused() {
    assertThat(TouchstoneReaderTest.fault("", 1)).hasMessageContaining("no network data");
    assertThat(TouchstoneReaderTest.fault("! only this\n", 1)).isNotNull();
  }

  @Test
  void binaryDataIsRefused() {
    byte[] zip = {'P', 'K', 3, 4, 20, 0, 0, 0};
    byte[] utf16 = "# RI\n1 0 0\n".getBytes(StandardCharsets.UTF_16);

    assertThat(fault(new ByteArrayInputStream(zip))).hasMessageContaining("binary");
    assertThat(fault(new ByteArrayInputStream(utf16))).isNotNull();
    assertThat(TouchstoneReaderTest.fault("# RI\n1 0 ½\n", 1)).hasMessageContaining("ASCII");
  }

  @Test
  void limitsHold() {
    ReadLimits small = new ReadLimits(100, 2, 30);

    assertThat(fault("# RI\n1 0 0\n2 0 0\n3 0 0\n", small)).hasMessageContaining("2 points");
    assertThat(fault("!".repeat(31), small)).hasMessageContaining("30 characters");
    assertThat(fault("!\n".repeat(51), small)).hasMessageContaining("100 bytes");
  }

  @Test
  void anEndlessStreamIsCutOffEarly() {
    InputStream endless =
        new InputStream() {
          @Override
          public int read() {
            return '1';
          }
        };

    Assertions.assertTimeoutPreemptively(
        Duration.ofSeconds(10),
        () -> assertThat(fault(endless)).hasMessageContaining("longer than"));
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 17, 999})
  void otherNumbersOfPortsAreRefused(int ports) {
    assertThat(TouchstoneReaderTest.fault("# RI\n1 0 0\n", ports).field()).isEqualTo("file name");
  }

  /** A cut anywhere either is noticed or leaves whole points with a warning. */
  @Property(tries = 300, seed = "1")
  void aFileCutOffIsRefusedOrWarnedOf(@ForAll @IntRange(min = 1, max = 106) int length)
      throws IOException {
    String whole =
        """
        # GHz S RI R 50
        1 0.11 0 0.21 0 0.12 0 0.22 0
        2 0.11 0 0.21 0 0.12 0 0.22 0
        3 0.11 0 0.21 0 0.12 0 0.22 0
        """;
    String cut = whole.substring(0, length);
    try {
      TouchstoneFile file = TouchstoneReaderTest.read(cut, 2);
      assertThat(cut.endsWith("\n") || !file.warnings().isEmpty()).isTrue();
    } catch (TouchstoneException refusal) {
      assertThat(refusal.line()).isPositive();
    }
  }

  private static TouchstoneException fault(InputStream stream) {
    return catchThrowableOfType(
        TouchstoneException.class,
        () -> TouchstoneReader.read(stream, OptionalInt.of(1), ReadLimits.USUAL));
  }

  private static TouchstoneException fault(String text, ReadLimits limits) {
    return catchThrowableOfType(
        TouchstoneException.class,
        () -> TouchstoneReader.read(new StringReader(text), OptionalInt.of(1), limits));
  }
}
