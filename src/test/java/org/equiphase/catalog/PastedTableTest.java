package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.equiphase.catalog.PastedTable.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PastedTableTest {

  @ParameterizedTest
  @ValueSource(
      strings = {
        "20\t-3.5\n25\t0",
        "20\t-3,5\r\n25\t0\r\n",
        "20;-3,5\n25;0",
        "20 ; -3.5\n25 ; 0",
        "20,-3.5\n25,0",
        "20, -3.5\n25, 0",
        "°C;ppm\n20;-3.5\n25;0",
        "\n20;\u22123,5\n\n25;0\n\n"
      })
  void readsWhatSpreadsheetsAndPeopleWrite(String text) {
    assertThat(PastedTable.parse(text))
        .isEqualTo(new PastedTable(List.of(new Row(20, -3.5), new Row(25, 0)), null));
  }

  @Test
  void anEmptyTextIsAnEmptyTable() {
    assertThat(PastedTable.parse(" \n\t\n")).isEqualTo(new PastedTable(List.of(), null));
  }

  /** The comma of a tab-separated text is always decimal, even in a row that lost its tab. */
  @Test
  void aDecimalCommaIsNoSeparatorWhereAnotherIsInUse() {
    assertThat(PastedTable.parse("20\t1\n25,3\n").problem())
        .asString()
        .startsWith("row 2, “25,3”, has 1 cell;");
    assertThat(PastedTable.parse("20;1\n25,3\n").problem())
        .asString()
        .startsWith("row 2, “25,3”, has 1 cell;");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          20;1%25;                  | row 2, “25;”, has 1 cell
          20;1%25;2;3               | row 2, “25;2;3”, has 3 cells
          20,5,3,1                  | row 1, “20,5,3,1”, has 4 cells
          20                        | row 1, “20”, has 1 cell
          20;1%x;2                  | row 2: “x” is not a number
          20;1%%25;2 ppm            | row 3: “2 ppm” is not a number
          20;NaN                    | row 1: “NaN” is not a number
          20;1e999                  | row 1: “1e999” is not a number
          20;0x1p3                  | row 1: “0x1p3” is not a number
          20;1.234,5                | row 1: “1.234,5” is not a number
          °C;ppm%20;1%°C;ppm        | row 3: “°C” is not a number
          """)
  void namesTheBadRow(String text, String problem) {
    PastedTable table = PastedTable.parse(text.replace('%', '\n'));
    assertThat(table.problem()).asString().startsWith(problem);
    assertThat(table.rows()).isEmpty();
  }
}
