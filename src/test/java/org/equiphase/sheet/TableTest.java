package org.equiphase.sheet;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class TableTest {

  private static final Instant AT = Instant.parse("2026-03-04T05:06:07Z");

  private record Line(String who, @Nullable Double errorMm, Instant at) {}

  private final Table<Line> table =
      new Table<>(
          List.of(
              Column.text("who", Sentence.said("Who"), 30, Line::who),
              Column.number("error_mm", Sentence.said("Error, mm"), 20, Line::errorMm),
              Column.time("at", Sentence.said("When"), 40, Line::at)),
          List.of(new Line("=1+1", -0.125, AT), new Line("Mara, \"the\" second", null, AT)));

  /** Quotes as in RFC 4180, section 2. */
  @Test
  void textFileHoldsTheNumbersInFull() {
    assertThat(new String(table.csv(), StandardCharsets.UTF_8))
        .isEqualTo(
            """
            who,error_mm,at\r
            '=1+1,-0.125,2026-03-04T05:06:07Z\r
            "Mara, ""the"" second",,2026-03-04T05:06:07Z\r
            """);
  }

  @Test
  void workbookHoldsTypedCells() throws IOException {
    byte[] file = table.xlsx(new Words(Locale.GERMAN), "Cuts: all", "of line 1 & 2");
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(file))) {
      XSSFSheet sheet = workbook.getSheetAt(0);
      assertThat(sheet.getSheetName()).isEqualTo("Cuts- all");
      assertThat(sheet.getRow(0).getCell(1).getStringCellValue()).isEqualTo("Error, mm");
      Row first = sheet.getRow(1);
      Cell who = first.getCell(0);
      assertThat(who.getCellType()).isEqualTo(CellType.STRING);
      assertThat(who.getStringCellValue()).isEqualTo("=1+1");
      assertThat(who.getCellStyle().getQuotePrefixed()).isTrue();
      assertThat(first.getCell(1).getNumericCellValue()).isEqualTo(-0.125);
      assertThat(first.getCell(2).getLocalDateTimeCellValue())
          .isEqualTo(LocalDateTime.ofInstant(AT, ZoneId.systemDefault()));
      assertThat(sheet.getRow(2).getCell(1).getCellType()).isEqualTo(CellType.BLANK);
      assertThat(sheet.getRepeatingRows().formatAsString()).isEqualTo("1:1");
      assertThat(sheet.getFooter().getLeft()).isEqualTo("of line 1 && 2");
    }
  }
}
