package org.equiphase.sheet;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import javax.xml.namespace.QName;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.ClientAnchor;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.Footer;
import org.apache.poi.ss.usermodel.HorizontalAlignment;
import org.apache.poi.ss.usermodel.IndexedColors;
import org.apache.poi.ss.usermodel.Name;
import org.apache.poi.ss.usermodel.PageMargin;
import org.apache.poi.ss.usermodel.PrintSetup;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.VerticalAlignment;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.util.WorkbookUtil;
import org.apache.poi.xssf.model.StylesTable;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFCellStyle;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFFont;
import org.apache.poi.xssf.usermodel.XSSFRelation;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.apache.xmlbeans.XmlCursor;
import org.jspecify.annotations.Nullable;
import org.openxmlformats.schemas.spreadsheetml.x2006.main.CTXf;

/** A workbook in the making: one style per look, safe text, barcodes, print set-up. */
public final class Book implements AutoCloseable {

  private static final double PIXELS_PER_MM = 96 / 25.4;
  private static final double PIXELS_PER_CHARACTER = 7;
  private static final int EMU_PER_MM = 36_000;
  private static final double LINE_MM = 4.5;

  /** Share of a line that text fills before it wraps at a space. */
  private static final double WRAPPED_FILL = 0.85;

  /** A bold letter of a head is so wide, wide ones among them. */
  private static final double HEAD_LETTER_MM = 1.85;

  private static final double CELL_PADDING_MM = 2;

  private static final int ROWS_KEPT = 100;
  private static final String STYLE_NAME = "Equiphase ";

  private final Words words;
  private final XSSFWorkbook workbook = new XSSFWorkbook();
  private final Map<Look, XSSFCellStyle> styles = new EnumMap<>(Look.class);

  /** The same for text that a program might take for a formula when it is edited or exported. */
  private final Map<Look, XSSFCellStyle> guardedStyles = new EnumMap<>(Look.class);

  /** The same workbook with sheets whose rows go to disk; null while there are none. */
  private @Nullable SXSSFWorkbook streaming;

  /** How a cell looks. */
  public enum Look {
    TITLE,
    ACTION,
    LABEL,
    /** What stands beside a label: a text or a number. */
    VALUE,
    /** Text that may need two lines, without a border. */
    NOTE,
    HEAD,
    TEXT,
    /** Text in one line, for programs. */
    KEY,
    /** Empty, with a border, to be written into by hand. */
    BOX,
    INTEGER,
    DEGREES,
    SIGNED_DEGREES,
    MILLIMETRES,
    INCHES,
    /** A ratio or a probability. */
    THOUSANDTHS,
    QUANTITY,
    /** Date and time to the second. */
    TIME,
    /** What people must not overlook. */
    CAUTION,
    /** To be filled in on screen or by hand: the only cells that a protected sheet lets change. */
    FILL_TEXT,
    FILL_NUMBER,
    FILL_TIME
  }

  /** How a sheet is printed: always one page wide, on A4 unless said otherwise. */
  public enum Page {
    PORTRAIT,
    /** Upright, and one page long too. */
    SINGLE,
    LANDSCAPE,
    LANDSCAPE_A3
  }

  public Book(Words words) {
    this.words = words;
    XSSFFont font = workbook.getFontAt(0);
    font.setFontName("Arial");
    font.setFontHeightInPoints((short) 9);
    for (Look look : Look.values()) {
      styles.put(look, style(look));
      XSSFCellStyle guarded = style(look);
      guarded.setQuotePrefixed(true);
      guardedStyles.put(look, guarded);
    }
    nameStyles();
  }

  /** Names the looks, so that a program lists them and changes all cells of one at once. */
  private void nameStyles() {
    StylesTable table = workbook.getStylesSource();
    try (XmlCursor cursor = table.getCTStylesheet().newCursor()) {
      cursor.toEndToken();
      cursor.beginElement(new QName(XSSFRelation.NS_SPREADSHEETML, "cellStyles"));
      nameStyle(cursor, "Normal", 0);
      cursor.insertAttributeWithValue("builtinId", "0");
      cursor.toNextToken();
      styles.forEach(
          (look, style) -> {
            // putCellStyleXf answers with how many there are then.
            CTXf named = (CTXf) style.getCoreXf().copy();
            named.unsetXfId();
            int id = table.putCellStyleXf(named) - 1;
            style.getCoreXf().setXfId(id);
            XSSFCellStyle guarded = Objects.requireNonNull(guardedStyles.get(look));
            guarded.getCoreXf().setXfId(id);
            nameStyle(cursor, STYLE_NAME + look.name().toLowerCase(Locale.ROOT), id);
            cursor.toNextToken();
          });
    }
  }

  private static void nameStyle(XmlCursor cursor, String name, int id) {
    cursor.beginElement(new QName(XSSFRelation.NS_SPREADSHEETML, "cellStyle"));
    cursor.insertAttributeWithValue("name", name);
    cursor.insertAttributeWithValue("xfId", "" + id);
  }

  /** The language in which it is written. */
  public Words words() {
    return words;
  }

  private XSSFCellStyle style(Look look) {
    XSSFCellStyle style = workbook.createCellStyle();
    style.setVerticalAlignment(VerticalAlignment.CENTER);
    switch (look) {
      case TITLE -> style.setFont(bold(13));
      case ACTION -> style.setFont(bold(20));
      case LABEL -> style.setFont(bold(9));
      case HEAD -> {
        style.setFont(bold(9));
        style.setWrapText(true);
        style.setAlignment(HorizontalAlignment.LEFT);
        style.setFillForegroundColor(IndexedColors.GREY_25_PERCENT.getIndex());
        style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
        border(style);
      }
      case VALUE -> {
        style.setAlignment(HorizontalAlignment.LEFT);
        style.setWrapText(true);
      }
      case NOTE -> style.setWrapText(true);
      case TEXT -> {
        border(style);
        style.setWrapText(true);
        style.setAlignment(HorizontalAlignment.LEFT);
        style.setIndention((short) 1);
      }
      case KEY -> style.setAlignment(HorizontalAlignment.LEFT);
      case BOX -> border(style);
      case INTEGER -> number(style, "0");
      case DEGREES -> number(style, "0.00");
      case SIGNED_DEGREES -> number(style, "+0.00;-0.00;0.00");
      case MILLIMETRES -> number(style, "0.00");
      case INCHES, THOUSANDTHS -> number(style, "0.000");
      case QUANTITY -> number(style, "General");
      case TIME -> number(style, "yyyy-mm-dd hh:mm:ss");
      case CAUTION -> style.setFont(bold(11));
      case FILL_TEXT -> fill(style, "@", HorizontalAlignment.LEFT);
      case FILL_NUMBER -> fill(style, "General", HorizontalAlignment.RIGHT);
      case FILL_TIME -> fill(style, "yyyy-mm-dd hh:mm", HorizontalAlignment.LEFT);
    }
    return style;
  }

  private XSSFFont bold(int points) {
    XSSFFont font = workbook.createFont();
    font.setFontName("Arial");
    font.setFontHeightInPoints((short) points);
    font.setBold(true);
    return font;
  }

  private static void border(XSSFCellStyle style) {
    style.setBorderTop(BorderStyle.THIN);
    style.setBorderBottom(BorderStyle.THIN);
    style.setBorderLeft(BorderStyle.THIN);
    style.setBorderRight(BorderStyle.THIN);
  }

  private void number(XSSFCellStyle style, String format) {
    border(style);
    style.setAlignment(HorizontalAlignment.RIGHT);
    style.setDataFormat(workbook.createDataFormat().getFormat(format));
  }

  private void fill(XSSFCellStyle style, String format, HorizontalAlignment alignment) {
    number(style, format);
    style.setAlignment(alignment);
    style.setLocked(false);
    style.setFillForegroundColor(IndexedColors.LIGHT_YELLOW.getIndex());
    style.setFillPattern(FillPatternType.SOLID_FOREGROUND);
  }

  /** A sheet with a name that Excel takes and that is not taken yet. */
  public XSSFSheet sheet(String wanted) {
    return workbook.createSheet(freeName(wanted));
  }

  /** A sheet for many rows: it keeps the last ones only, the others are on disk already. */
  public SXSSFSheet longSheet(String wanted) {
    if (streaming == null) {
      streaming = new SXSSFWorkbook(workbook, ROWS_KEPT);
    }
    return streaming.createSheet(freeName(wanted));
  }

  private String freeName(String wanted) {
    String safe = WorkbookUtil.createSafeSheetName(wanted, '-');
    String name = safe;
    for (int n = 2; workbook.getSheet(name) != null; n++) {
      String end = " " + n;
      name = safe.substring(0, Math.min(safe.length(), 31 - end.length())) + end;
    }
    return name;
  }

  /** Text as text, whatever it begins with. */
  public void text(Row row, int column, @Nullable String text, Look look) {
    String value = text == null ? "" : text;
    Cell cell = row.createCell(column);
    cell.setCellValue(value);
    cell.setCellStyle((looksLikeFormula(value) ? guardedStyles : styles).get(look));
  }

  /** Whether a spreadsheet program would take the text for a formula. */
  public static boolean looksLikeFormula(String text) {
    return !text.isEmpty() && "=+-@\t\r\n".indexOf(text.charAt(0)) >= 0;
  }

  /** A number; an empty cell where there is none. */
  public void number(Row row, int column, @Nullable Number value, Look look) {
    Cell cell = row.createCell(column);
    if (value != null) {
      cell.setCellValue(value.doubleValue());
    }
    cell.setCellStyle(styles.get(look));
  }

  /** Date and time in the zone of the service. */
  public void time(Row row, int column, @Nullable Instant value) {
    Cell cell = row.createCell(column);
    if (value != null) {
      cell.setCellValue(LocalDateTime.ofInstant(value, ZoneId.systemDefault()));
    }
    cell.setCellStyle(styles.get(Look.TIME));
  }

  /** An empty cell with a border. */
  public void box(Row row, int column) {
    row.createCell(column).setCellStyle(styles.get(Look.BOX));
  }

  /** Widths of the first columns in mm. */
  public void widths(Sheet sheet, double... widthsMm) {
    for (int column = 0; column < widthsMm.length; column++) {
      width(sheet, column, widthsMm[column]);
    }
  }

  /** Width of a column in mm. */
  public void width(Sheet sheet, int column, double widthMm) {
    sheet.setColumnWidth(
        column, (int) Math.round(widthMm * PIXELS_PER_MM / PIXELS_PER_CHARACTER * 256));
  }

  /**
   * Makes a row as high as its texts need at the widths of their columns, and at least so many
   * lines: not every program makes room for wrapped text by itself.
   */
  public static void fit(Row row, int leastLines) {
    int lines = leastLines;
    for (Cell cell : row) {
      if (cell.getCellType() == CellType.STRING && cell.getCellStyle().getWrapText()) {
        double characters =
            WRAPPED_FILL * row.getSheet().getColumnWidth(cell.getColumnIndex()) / 256;
        lines = Math.max(lines, (int) Math.ceil(cell.getStringCellValue().length() / characters));
      }
    }
    if (lines > 1) {
      height(row, lines * LINE_MM);
    }
  }

  /** A heading; its column becomes so wide, and as wide as the heading's longest word. */
  public void head(Row row, int column, String text, double leastMm) {
    text(row, column, text, Look.HEAD);
    // A program breaks a word that is longer anywhere.
    int longest = Arrays.stream(text.split(" ")).mapToInt(String::length).max().orElse(0);
    double wordMm = longest * HEAD_LETTER_MM + CELL_PADDING_MM;
    width(row.getSheet(), column, Math.max(leastMm, wordMm));
  }

  /** Height of a row in mm. */
  public static void height(Row row, double heightMm) {
    row.setHeightInPoints((float) (heightMm / 25.4 * 72));
  }

  /** A barcode as a picture that begins in a cell and may run over those to its right. */
  public void barcode(XSSFSheet sheet, int row, int column, Code128 code, double heightMm) {
    int picture = workbook.addPicture(code.png(4, 40), Workbook.PICTURE_TYPE_PNG);
    int margin = EMU_PER_MM;
    int right = margin + (int) (code.wideMm() * EMU_PER_MM);
    int lastColumn = column;
    while (right > columnEmu(sheet, lastColumn)) {
      right -= columnEmu(sheet, lastColumn);
      lastColumn++;
    }
    int bottom = margin + (int) (heightMm * EMU_PER_MM);
    XSSFClientAnchor anchor =
        new XSSFClientAnchor(margin, margin, right, bottom, column, row, lastColumn, row);
    anchor.setAnchorType(ClientAnchor.AnchorType.MOVE_DONT_RESIZE);
    sheet.createDrawingPatriarch().createPicture(anchor, picture);
  }

  private static int columnEmu(XSSFSheet sheet, int column) {
    return (int) (sheet.getColumnWidthInPixels(column) / PIXELS_PER_MM * EMU_PER_MM);
  }

  /** One page wide, numbered, with a printed area from the first cell to the last given. */
  public void print(Sheet sheet, Page page, int lastRow, int lastColumn, String footerText) {
    PrintSetup setup = sheet.getPrintSetup();
    setup.setPaperSize(
        page == Page.LANDSCAPE_A3 ? PrintSetup.A3_PAPERSIZE : PrintSetup.A4_PAPERSIZE);
    setup.setLandscape(page == Page.LANDSCAPE || page == Page.LANDSCAPE_A3);
    sheet.setFitToPage(true);
    setup.setFitWidth((short) 1);
    setup.setFitHeight((short) (page == Page.SINGLE ? 1 : 0));
    sheet.setMargin(PageMargin.LEFT, 0.5);
    sheet.setMargin(PageMargin.RIGHT, 0.4);
    sheet.setMargin(PageMargin.TOP, 0.5);
    sheet.setMargin(PageMargin.BOTTOM, 0.7);
    workbook.setPrintArea(workbook.getSheetIndex(sheet.getSheetName()), 0, lastColumn, 0, lastRow);
    Footer footer = sheet.getFooter();
    // An ampersand begins a code in a footer; two of them print one.
    footer.setLeft(footerText.replace("&", "&&"));
    footer.setRight(words.text("sheet.page", "&P", "&N"));
  }

  /** A formula with the value that it has now. */
  public void formula(Row row, int column, String formula, double value, Look look) {
    Cell cell = row.createCell(column);
    cell.setCellFormula(formula);
    cell.setCellValue(value);
    cell.setCellStyle(styles.get(look));
  }

  /** An empty cell of a look. */
  public void blank(Row row, int column, Look look) {
    row.createCell(column).setCellStyle(styles.get(look));
  }

  /** Gives a cell or a range a name for formulas. */
  public void name(String name, String reference) {
    Name named = workbook.createName();
    named.setNameName(name);
    named.setRefersToFormula(reference);
  }

  /** Writes the finished file; nothing can be added afterwards. */
  public void writeTo(OutputStream out) throws IOException {
    if (streaming == null) {
      workbook.write(out);
    } else {
      streaming.write(out);
    }
  }

  /** Lets go of what it holds, on disk too. */
  @Override
  public void close() throws IOException {
    if (streaming == null) {
      workbook.close();
    } else {
      streaming.close();
    }
  }

  /** The finished file; nothing can be added afterwards. */
  public byte[] bytes() {
    try (ByteArrayOutputStream out = new ByteArrayOutputStream();
        this) {
      writeTo(out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
