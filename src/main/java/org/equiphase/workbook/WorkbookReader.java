package org.equiphase.workbook;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.poi.openxml4j.exceptions.OpenXML4JException;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.openxml4j.opc.PackageAccess;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.util.XMLHelper;
import org.apache.poi.xssf.eventusermodel.ReadOnlySharedStringsTable;
import org.apache.poi.xssf.eventusermodel.XSSFReader;
import org.apache.poi.xssf.eventusermodel.XSSFSheetXMLHandler;
import org.apache.poi.xssf.usermodel.XSSFComment;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.xml.sax.Attributes;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;
import org.xml.sax.XMLReader;

/**
 * Finds the filled-in rows of an uploaded workbook. The sheet is read as a stream and only rows in
 * which something was filled in are kept. Columns are found by their headings, in any language.
 */
final class WorkbookReader {

  private static final int HEAD_WITHIN_ROWS = 30;
  private static final int MOST_ROWS = 200_000;
  private static final int MOST_COLUMNS = 1_000;

  private final Layout layout;

  WorkbookReader(Layout layout) {
    this.layout = layout;
  }

  /**
   * @throws InvalidInputException saying what is wrong with the file
   */
  List<FilledRow> read(byte[] content) {
    try {
      Path file = Files.createTempFile("workbook", ".xlsx");
      try {
        Files.write(file, content);
        FileGate.check(file);
        return read(file);
      } finally {
        Files.delete(file);
      }
    } catch (InvalidInputException e) {
      throw e;
    } catch (OpenXML4JException
        | SAXException
        | ParserConfigurationException
        | IOException
        | RuntimeException e) {
      // What a broken or hostile workbook makes the library throw is of no fixed kind.
      throw FileGate.refusal(Sentence.of("workbook.file.damaged"));
    }
  }

  private List<FilledRow> read(Path file)
      throws IOException, OpenXML4JException, SAXException, ParserConfigurationException {
    try (OPCPackage parts = OPCPackage.open(file.toFile(), PackageAccess.READ)) {
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
    }
    throw FileGate.refusal(Sentence.of("workbook.file.noSheet"));
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

  /** Tells which cells are formulas and which are merged; the rest is its parent's. */
  private static final class Handler extends XSSFSheetXMLHandler {

    private final SheetRows rows;
    private @Nullable String cell;

    Handler(ReadOnlySharedStringsTable texts, SheetRows rows) {
      super(null, texts, rows, false);
      this.rows = rows;
    }

    @Override
    public void startElement(String uri, String name, String qualified, Attributes attributes)
        throws SAXException {
      switch (name) {
        case "c" -> cell = attributes.getValue("r");
        case "f" -> rows.formula(cell);
        case "mergeCell" -> rows.refuseMerged(attributes.getValue("ref"));
        default -> {}
      }
      super.startElement(uri, name, qualified, attributes);
    }
  }

  /** Takes the cells of one sheet. */
  private final class SheetRows implements XSSFSheetXMLHandler.SheetContentsHandler {

    private final Map<String, Field> heads = layout.byHead();
    private final List<FilledRow> filled = new ArrayList<>();
    private final Map<Integer, String> cells = new HashMap<>();
    private final Set<String> formulas = new HashSet<>();
    private @Nullable Map<Integer, Field> columns;
    private int headRow;
    private int rowsWithCells;

    @Override
    public void startRow(int row) {
      cells.clear();
      formulas.clear();
    }

    void formula(@Nullable String reference) {
      if (reference != null && formulas.size() < MOST_COLUMNS) {
        formulas.add(reference);
      }
    }

    @Override
    public void cell(
        @Nullable String reference, @Nullable String value, @Nullable XSSFComment comment) {
      if (reference == null || value == null || value.isBlank()) {
        return;
      }
      int column = new CellReference(reference).getCol();
      if (column >= MOST_COLUMNS) {
        throw FileGate.refusal(Sentence.of("workbook.file.tooWide", reference, MOST_COLUMNS));
      }
      cells.put(column, value.strip());
    }

    @Override
    public void endRow(int row) {
      if (cells.isEmpty()) {
        return;
      }
      rowsWithCells++;
      if (rowsWithCells > MOST_ROWS) {
        throw FileGate.refusal(Sentence.of("workbook.file.tooLong", MOST_ROWS));
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
              throw FileGate.refusal(Sentence.of("workbook.file.headTwice", text));
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
              if (formulas.contains(
                  CellReference.convertNumToColString(cell.getKey()) + (row + 1))) {
                computed.add(field);
              }
            }
          }
        }
      }
      if (!values.isEmpty()) {
        filled.add(new FilledRow(row + 1, serial, key, values, computed));
      }
    }

    /** A merged cell hides what the cells under it hold. */
    void refuseMerged(@Nullable String range) {
      if (columns != null && CellRangeAddress.valueOf(range).getLastRow() >= headRow) {
        throw FileGate.refusal(Sentence.of("workbook.file.merged", String.valueOf(range)));
      }
    }
  }
}
