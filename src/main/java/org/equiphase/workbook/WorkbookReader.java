package org.equiphase.workbook;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.poi.openxml4j.exceptions.OpenXML4JException;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.util.XMLHelper;
import org.apache.poi.xssf.eventusermodel.ReadOnlySharedStringsTable;
import org.apache.poi.xssf.eventusermodel.XSSFReader;
import org.apache.poi.xssf.eventusermodel.XSSFSheetXMLHandler;
import org.apache.poi.xssf.usermodel.XSSFComment;
import org.equiphase.sheet.WorkbookGate;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.xml.sax.Attributes;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import org.xml.sax.XMLReader;

/**
 * Finds the filled-in rows of an uploaded workbook. The sheet is read as a stream and only rows in
 * which something was filled in are kept, so that memory is bounded. Columns are found by their
 * headings, in any language.
 */
final class WorkbookReader {

  private static final long MOST_UNPACKED = 600L * 1024 * 1024;
  private static final int HEAD_WITHIN_ROWS = 30;
  private static final int MOST_ROWS = 200_000;
  private static final int MOST_FILLED_ROWS = 10_000;
  private static final int MOST_COLUMNS = 1_000;

  /** Of a cell that is kept: no name is longer. */
  private static final int LONGEST_KEPT = 200;

  /** Of any cell, its formula included; spreadsheet programs end at 32 767 and 8 192. */
  private static final int LONGEST_CELL = 50_000;

  private final Layout layout;
  private final long mostBytes;

  /**
   * @param mostBytes that a file may have
   */
  WorkbookReader(Layout layout, long mostBytes) {
    this.layout = layout;
    this.mostBytes = mostBytes;
  }

  /**
   * @throws InvalidInputException saying what is wrong with the file
   */
  List<FilledRow> read(byte[] content) {
    // Rows are streamed, so that a sheet may have any number of tags.
    var limits = new WorkbookGate.Limits(mostBytes, MOST_UNPACKED, Long.MAX_VALUE);
    return WorkbookGate.read(content, limits, this::read);
  }

  private List<FilledRow> read(OPCPackage parts)
      throws IOException, OpenXML4JException, SAXException, ParserConfigurationException {
    ReadOnlySharedStringsTable texts = new ReadOnlySharedStringsTable(parts);
    var sheets = new XSSFReader(parts).getSheetsData();
    while (sheets.hasNext()) {
      try (InputStream sheet = sheets.next()) {
        SheetRows rows = new SheetRows();
        if (parse(sheet, texts, rows)) {
          return rows.filled;
        }
      }
    }
    throw WorkbookGate.refusal(Sentence.of("workbook.file.noSheet"));
  }

  /** Whether the sheet is the one with the instructions. */
  private static boolean parse(InputStream sheet, ReadOnlySharedStringsTable texts, SheetRows rows)
      throws IOException, SAXException, ParserConfigurationException {
    XMLReader reader = XMLHelper.newXMLReader();
    reader.setContentHandler(new Handler(texts, rows));
    try {
      reader.parse(new InputSource(sheet));
    } catch (OtherSheetException e) {
      return false;
    }
    return rows.columns != null;
  }

  /** Ends the reading of a sheet that has no head row. */
  private static final class OtherSheetException extends RuntimeException {}

  /** Tells where a cell stands and what it is; what it holds is found out by its parent. */
  private static final class Handler extends XSSFSheetXMLHandler {

    private final SheetRows rows;
    private boolean inRow;
    private int letters;

    Handler(ReadOnlySharedStringsTable texts, SheetRows rows) {
      super(null, texts, rows, false);
      this.rows = rows;
    }

    @Override
    public void startElement(String uri, String name, String qualified, Attributes attributes)
        throws SAXException {
      switch (name) {
        case "row" -> inRow = true;
        case "c" -> {
          rows.startCell(attributes.getValue("r"));
          letters = 0;
        }
        case "f" -> rows.formulas.add(rows.column);
        case "mergeCell" -> rows.refuseMerged(attributes.getValue("ref"));
        default -> {}
      }
      if (inRow) {
        super.startElement(uri, name, qualified, attributes);
      }
    }

    @Override
    public void endElement(String uri, String name, String qualified) throws SAXException {
      if (inRow) {
        super.endElement(uri, name, qualified);
      }
      inRow &= !name.equals("row");
    }

    @Override
    public void characters(char[] text, int start, int length) throws SAXException {
      letters += length;
      if (inRow) {
        rows.refuseLonger(letters, LONGEST_CELL);
        super.characters(text, start, length);
      }
    }
  }

  /** Takes the cells of one sheet. */
  private final class SheetRows implements XSSFSheetXMLHandler.SheetContentsHandler {

    private final Map<String, Field> heads = layout.byHead();
    private final List<FilledRow> filled = new ArrayList<>();
    private final Map<Integer, String> cells = new HashMap<>();
    private final Set<Integer> formulas = new HashSet<>();
    private @Nullable Map<Integer, Field> columns;
    private int headRow;
    private int rowsWithCells;
    private int row;
    private int column;

    @Override
    public void startRow(int number) {
      cells.clear();
      formulas.clear();
      row = number;
      column = -1;
    }

    /** A cell that doesn't say where it is stands beside the one before. */
    void startCell(@Nullable String reference) {
      column = reference == null ? column + 1 : new CellReference(reference).getCol();
      if (column >= MOST_COLUMNS) {
        throw WorkbookGate.refusal(Sentence.of("workbook.file.tooWide", place(), MOST_COLUMNS));
      }
    }

    private String place() {
      return CellReference.convertNumToColString(column) + (row + 1);
    }

    void refuseLonger(int letters, int most) {
      if (letters > most) {
        throw WorkbookGate.refusal(
            Sentence.of("workbook.file.textTooLong", place(), letters, most));
      }
    }

    @Override
    public void cell(
        @Nullable String reference, @Nullable String value, @Nullable XSSFComment comment) {
      if (value != null && !value.isBlank()) {
        cells.put(column, value.strip());
        if (columns != null && columns.containsKey(column)) {
          refuseLonger(value.length(), LONGEST_KEPT);
        }
      }
    }

    @Override
    public void endRow(int row) {
      if (cells.isEmpty()) {
        return;
      }
      rowsWithCells++;
      if (rowsWithCells > MOST_ROWS) {
        throw WorkbookGate.refusal(Sentence.of("workbook.file.tooLong", MOST_ROWS));
      }
      if (columns != null) {
        data(row, columns);
      } else if (isHead()) {
        columns = columns();
        headRow = row;
      } else if (row > HEAD_WITHIN_ROWS) {
        throw new OtherSheetException();
      }
    }

    private boolean isHead() {
      Set<Kind> kinds = new HashSet<>();
      for (String cell : cells.values()) {
        Field field = heads.get(Layout.plain(cell));
        if (field != null) {
          kinds.add(field.kind());
        }
      }
      return kinds.contains(Kind.SERIAL) && kinds.contains(Kind.KEY);
    }

    private Map<Integer, Field> columns() {
      Map<Integer, Field> found = new HashMap<>();
      cells.forEach(
          (column, text) -> {
            Field field = heads.get(Layout.plain(text));
            if (field != null && found.containsValue(field)) {
              throw WorkbookGate.refusal(Sentence.of("workbook.file.headTwice", text));
            }
            if (field != null) {
              found.put(column, field);
            }
          });
      return found;
    }

    private void data(int row, Map<Integer, Field> columns) {
      String serial = "";
      String key = "";
      Map<Field, String> values = new HashMap<>();
      Set<Field> computed = new HashSet<>();
      for (Map.Entry<Integer, String> cell : cells.entrySet()) {
        Field field = columns.get(cell.getKey());
        if (field == null) {
          continue;
        }
        switch (field.kind()) {
          case SERIAL -> serial = cell.getValue();
          case KEY -> key = cell.getValue();
          default -> {
            if (field.kind().isFilledIn()) {
              values.put(field, cell.getValue());
              if (formulas.contains(cell.getKey())) {
                computed.add(field);
              }
            }
          }
        }
      }
      if (!values.isEmpty()) {
        if (filled.size() == MOST_FILLED_ROWS) {
          throw WorkbookGate.refusal(Sentence.of("workbook.file.tooManyFilled", MOST_FILLED_ROWS));
        }
        filled.add(new FilledRow(row + 1, serial, key, values, computed));
      }
    }

    /** A merged cell hides what the cells under it hold. */
    void refuseMerged(@Nullable String range) {
      if (columns != null && CellRangeAddress.valueOf(range).getLastRow() >= headRow) {
        throw WorkbookGate.refusal(Sentence.of("workbook.file.merged", String.valueOf(range)));
      }
    }
  }
}
