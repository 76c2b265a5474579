package org.equiphase.audit;

import java.io.IOException;
import java.io.OutputStream;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.List;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Font;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Words;
import org.jspecify.annotations.Nullable;

/** Entries as a workbook, kept in a temporary file while it grows; times are in UTC. */
final class BookExport implements AutoCloseable {

  /** A sheet holds some more rows than that. */
  private static final int ROWS_PER_SHEET = 1_000_000;

  private static final List<String> HEADS =
      List.of(
          "audit.number",
          "audit.when",
          "audit.who",
          "audit.did",
          "audit.kind",
          "audit.which",
          "audit.details",
          "audit.previousHash",
          "audit.hash");
  private static final int[] WIDTHS = {10, 20, 16, 26, 16, 22, 80, 20, 20};

  private final Words words;
  private final SXSSFWorkbook workbook = new SXSSFWorkbook(100);
  private final CellStyle head = workbook.createCellStyle();
  private final CellStyle time = workbook.createCellStyle();
  private final CellStyle plain = workbook.createCellStyle();
  private final CellStyle quoted = workbook.createCellStyle();
  private @Nullable SXSSFSheet sheet;
  private int rows;

  BookExport(Words words) {
    this.words = words;
    workbook.setCompressTempFiles(true);
    Font bold = workbook.createFont();
    bold.setBold(true);
    head.setFont(bold);
    time.setDataFormat(workbook.createDataFormat().getFormat("yyyy-mm-dd hh:mm:ss"));
    quoted.setQuotePrefixed(true);
  }

  void add(AuditEntry entry) {
    Row row = nextRow();
    row.createCell(0).setCellValue(entry.id());
    time(row, 1, entry.at());
    text(row, 2, entry.actor());
    text(row, 3, entry.action());
    text(row, 4, entry.subjectType());
    text(row, 5, entry.subjectKey());
    text(row, 6, entry.details());
    text(row, 7, entry.previousHash());
    text(row, 8, entry.hash());
  }

  /** On a sheet of its own: where the chain ended, and which entries these are. */
  void end(ChainEnd end, Instant at, EntryFilter filter) {
    if (sheet == null) {
      sheet = entrySheet();
    }
    SXSSFSheet about = workbook.createSheet(words.text("audit.sheetChain"));
    about.setColumnWidth(0, 34 * 256);
    about.setColumnWidth(1, 70 * 256);
    time(fact(about, "audit.when"), 1, at);
    fact(about, "audit.chainEnd").createCell(1).setCellValue(end.id());
    text(fact(about, "audit.hash"), 1, end.hash());
    fact(about, "audit.who", filter.actor());
    fact(about, "audit.did", filter.action());
    fact(about, "audit.kind", filter.subjectType());
    fact(about, "audit.which", filter.subjectKey());
    fact(about, "audit.from", filter.from());
    fact(about, "audit.to", filter.to());
    fact(about, "audit.text", filter.text());
  }

  void writeTo(OutputStream out) throws IOException {
    workbook.write(out);
  }

  @Override
  public void close() throws IOException {
    workbook.close();
  }

  private Row nextRow() {
    SXSSFSheet current = sheet;
    if (current == null || rows == ROWS_PER_SHEET) {
      current = entrySheet();
      sheet = current;
      rows = 0;
    }
    rows++;
    return current.createRow(rows);
  }

  private SXSSFSheet entrySheet() {
    SXSSFSheet created =
        workbook.createSheet(
            words.text("audit.sheetEntries", "" + (workbook.getNumberOfSheets() + 1)));
    Row first = created.createRow(0);
    for (int c = 0; c < WIDTHS.length; c++) {
      created.setColumnWidth(c, WIDTHS[c] * 256);
      text(first, c, words.text(HEADS.get(c)));
      first.getCell(c).setCellStyle(head);
    }
    created.createFreezePane(0, 1);
    created.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    return created;
  }

  private Row fact(SXSSFSheet about, String key) {
    Row row = about.createRow(about.getPhysicalNumberOfRows());
    text(row, 0, words.text(key));
    row.getCell(0).setCellStyle(head);
    return row;
  }

  private void fact(SXSSFSheet about, String key, @Nullable Object value) {
    if (value != null) {
      text(fact(about, key), 1, value.toString());
    }
  }

  private void time(Row row, int column, Instant at) {
    Cell cell = row.createCell(column);
    cell.setCellValue(LocalDateTime.ofInstant(at, ZoneOffset.UTC));
    cell.setCellStyle(time);
  }

  private void text(Row row, int column, String value) {
    Cell cell = row.createCell(column);
    cell.setCellValue(value);
    cell.setCellStyle(Book.looksLikeFormula(value) ? quoted : plain);
  }
}
