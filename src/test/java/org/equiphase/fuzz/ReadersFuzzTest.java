package org.equiphase.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.equiphase.workbook.WorkbookFuzz;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The short run: the same broken files each time, for each reader. {@link FuzzRun} is the long one.
 */
class ReadersFuzzTest {

  private static final int FILES = 400;
  private static final long SEED = 20_261_130;

  @BeforeAll
  static void quiet() {
    Fuzzing.quiet();
  }

  static Stream<Readers> readers() {
    return Readers.all().stream();
  }

  /** Otherwise the broken files would be refused for something else than what is broken. */
  @ParameterizedTest
  @MethodSource("readers")
  void goodFilesAreRead(Readers each) {
    Fuzzing run = each.fuzzing();
    each.good().forEach(run::give);
    assertThat(run.found()).isEmpty();
  }

  @ParameterizedTest
  @MethodSource("readers")
  void brokenFilesAreRefusedInTime(Readers each) {
    assertThat(
            each.fuzzing().broken(SEED, FILES, each.good(), each.words(), each.longest()).found())
        .isEmpty();
  }

  /** What earlier runs found. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          xl/worksheets/sheet1.xml | r="A3"       | r="G31e-999"
          xl/worksheets/sheet1.xml | <v>0</v>     | <v>-1</v>
          xl/worksheets/sheet1.xml | <v>0</v>     | <v>99</v>
          xl/worksheets/sheet1.xml | </sheetData> | </sheetData><mergeCells><mergeCell/></mergeCells>
          xl/worksheets/sheet1.xml | r="3"        | r="x"
          xl/workbook.xml          | r:id="rId3"  | r:id="rId9"
          xl/workbook.xml          | 1.0          | 1'0
          """)
  void workbooksThatBrokeTheLibrary(String part, String from, String to) {
    Package book = Package.of(WorkbookFuzz.good());
    String xml = new String(book.part(part), StandardCharsets.UTF_8);
    assertThat(xml).contains(from);
    byte[] broken =
        xml.replaceFirst(java.util.regex.Pattern.quote(from), to).getBytes(StandardCharsets.UTF_8);

    assertThat(
            new Fuzzing("workbook", WorkbookFuzz::fuzzerTestOneInput)
                .give(book.with(part, broken))
                .found())
        .isEmpty();
  }

  @Test
  void filesKeptFromEarlierRuns() {
    List<byte[]> kept = Fuzzing.kept("workbook");
    Fuzzing run = new Fuzzing("workbook", WorkbookFuzz::fuzzerTestOneInput);
    kept.forEach(run::give);
    assertThat(kept).isNotEmpty();
    assertThat(run.found()).isEmpty();
  }
}
