package org.equiphase.workbook;

import java.util.List;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint;
import org.apache.poi.ss.usermodel.DataValidationConstraint.OperatorType;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.workbook.InstructionRow.Spot;
import org.equiphase.workbook.InstructionRow.Work;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/**
 * The trim instructions: a row per member, with formulas for what follows from its error, and cells
 * for what was done. Rows go to disk as they come, so that it may be long.
 */
final class InstructionSheet {

  /** Names of cells that formulas use. */
  static final String FREQUENCY_NAME = "frequency_%d_GHz";

  static final String BENCHES_NAME = "benches";

  private static final int HEAD_ROW = 2;
  private static final int HEAD_LINES = 4;
  private static final String C_M_PER_S = "299792458";

  private final Book book;
  private final Layout layout;
  private final Specification specification;
  private final SXSSFSheet sheet;
  private final String[] letters;
  private final int[][] columnOf;
  private int next = HEAD_ROW + 1;

  InstructionSheet(Book book, Layout layout, Specification specification) {
    this.book = book;
    this.layout = layout;
    this.specification = specification;
    List<Field> fields = layout.fields();
    sheet = book.longSheet(book.words().text("workbook.sheet.instructions"));
    letters = new String[fields.size()];
    columnOf = new int[Kind.values().length][specification.frequencies().size()];
    // Not in the first column, which is printed on each page and would cut them off.
    book.text(sheet.createRow(0), 1, book.words().text("workbook.caution.row"), Look.CAUTION);
    book.text(sheet.createRow(1), 1, book.words().text("workbook.howToFill"), Look.LABEL);
    Row head = sheet.createRow(HEAD_ROW);
    for (int c = 0; c < fields.size(); c++) {
      Field field = fields.get(c);
      letters[c] = CellReference.convertNumToColString(c);
      columnOf[field.kind().ordinal()][field.frequency()] = c;
      book.head(head, c, book.words().say(field.head()), field.kind().widthMm());
    }
    Book.fit(head, HEAD_LINES);
    sheet.setColumnHidden(layout.column(Kind.KEY, 0), true);
    sheet.createFreezePane(1, HEAD_ROW + 1);
  }

  void add(InstructionRow member) {
    Row row = sheet.createRow(next);
    next++;
    Work work = member.work();
    for (int c = 0; c < letters.length; c++) {
      Field field = layout.fields().get(c);
      Look look = field.kind().look();
      Spot spot = member.spots().get(field.frequency());
      switch (field.kind()) {
        case SERIAL -> book.text(row, c, member.serial(), look);
        case SET -> book.text(row, c, member.set(), look);
        case POSITION -> book.text(row, c, member.position(), look);
        case ACTION -> book.text(row, c, book.words().say(member.action()), look);
        case READING -> book.number(row, c, member.readingId(), look);
        case INSTRUCTION -> book.number(row, c, member.instructionId(), look);
        case CENTER -> book.number(row, c, spot.centerDeg(), look);
        case TARGET -> book.number(row, c, spot.targetDeg(), look);
        case MEASURED -> book.number(row, c, spot.measuredDeg(), look);
        case ERROR -> book.number(row, c, spot.errorDeg(), look);
        case ACCEPTANCE -> book.number(row, c, spot.acceptanceDeg(), look);
        case PROBABILITY -> book.number(row, c, member.probabilityIn(), look);
        case KEY -> book.text(row, c, member.key(), look);
        default -> {
          if (field.kind().isFilledIn()) {
            book.blank(row, c, look);
          } else {
            work(row, c, field, work, spot);
          }
        }
      }
    }
    Book.fit(row, 1);
  }

  /** The columns from velocity factor to expected error, which only a cut or a setting has. */
  private void work(Row row, int c, Field field, @Nullable Work work, Spot spot) {
    Look look = field.kind().look();
    Double errorDeg = spot.errorDeg();
    if (work == null || errorDeg == null) {
      book.blank(row, c, look);
      return;
    }
    int k = field.frequency();
    double degPerMm = work.degPerMm(spot.frequencyHz());
    switch (field.kind()) {
      case VELOCITY_FACTOR ->
          book.number(row, c, work.cut() ? 1 / work.electricalMmPerMm() : null, look);
      case LINE_PER_MM -> book.number(row, c, work.cut() ? null : -work.electricalMmPerMm(), look);
      case SLOPE -> book.formula(row, c, slopeFormula(row, work, k), degPerMm, look);
      case AIM -> book.number(row, c, work.aimDeg(), look);
      case STEP -> book.number(row, c, work.stepMm() > 0 ? work.stepMm() : null, look);
      case CUT -> {
        if (work.cut()) {
          book.formula(row, c, cutFormula(row, work), work.toMm(), look);
        } else {
          book.blank(row, c, look);
        }
      }
      case SETTING_NOW -> book.number(row, c, work.cut() ? null : work.fromMm(), look);
      case SETTING -> {
        if (work.cut()) {
          book.blank(row, c, look);
        } else {
          book.formula(row, c, settingFormula(row), work.toMm(), look);
        }
      }
      case EXPECTED ->
          book.formula(
              row, c, expectedFormula(row, work, k), errorDeg + degPerMm * work.byMm(), look);
      default -> throw new IllegalArgumentException(field.toString());
    }
  }

  private String cell(Row row, Kind kind, int frequency) {
    return letters[columnOf[kind.ordinal()][frequency]] + (row.getRowNum() + 1);
  }

  /** 360°·f/(v·c) per metre of cable; −360°·f/c per metre of air line. */
  private String slopeFormula(Row row, Work work, int k) {
    String perVacuum = "360*" + FREQUENCY_NAME.formatted(k + 1) + "*1000000/" + C_M_PER_S;
    return work.cut()
        ? perVacuum + "/" + cell(row, Kind.VELOCITY_FACTOR, 0)
        : "-" + perVacuum + "*" + cell(row, Kind.LINE_PER_MM, 0);
  }

  /** How far to go from the error to the aim, in millimetres. */
  private String wayFormula(Row row) {
    return "(%s-%s)/%s"
        .formatted(cell(row, Kind.AIM, 0), cell(row, Kind.ERROR, 0), cell(row, Kind.SLOPE, 0));
  }

  private String cutFormula(Row row, Work work) {
    String step = cell(row, Kind.STEP, 0);
    return work.stepMm() > 0
        ? "ROUND(ROUND(" + wayFormula(row) + "/" + step + ",0)*" + step + ",9)"
        : wayFormula(row);
  }

  private String settingFormula(Row row) {
    return "ROUND(" + cell(row, Kind.SETTING_NOW, 0) + "+" + wayFormula(row) + ",6)";
  }

  private String expectedFormula(Row row, Work work, int k) {
    String by =
        work.cut()
            ? cell(row, Kind.CUT, 0)
            : "(" + cell(row, Kind.SETTING, 0) + "-" + cell(row, Kind.SETTING_NOW, 0) + ")";
    return cell(row, Kind.ERROR, k) + "+" + cell(row, Kind.SLOPE, k) + "*" + by;
  }

  /** What holds for the sheet as a whole, once all rows are there. */
  void finish(String footer) {
    int last = next - 1;
    int lastShown = letters.length - 2;
    if (last > HEAD_ROW) {
      sheet.setAutoFilter(new CellRangeAddress(HEAD_ROW, last, 0, lastShown));
      validate(last);
    }
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:" + (HEAD_ROW + 1)));
    sheet.setRepeatingColumns(CellRangeAddress.valueOf("A:A"));
    sheet.getHeader().setCenter(book.words().text("workbook.caution.print"));
    Book.Page page = letters.length > 30 ? Book.Page.LANDSCAPE_A3 : Book.Page.LANDSCAPE;
    book.print(sheet, page, last, lastShown, footer);
    if (page == Book.Page.LANDSCAPE_A3) {
      // Legible only side by side: what to do, and what was done.
      sheet.getPrintSetup().setFitWidth((short) 2);
    }
    sheet.enableLocking();
    sheet.lockAutoFilter(false);
    sheet.lockSort(false);
    sheet.lockFormatColumns(false);
    sheet.lockFormatRows(false);
    sheet.lockInsertColumns(false);
  }

  private void validate(int last) {
    DataValidationHelper rules = sheet.getDataValidationHelper();
    for (int c = 0; c < letters.length; c++) {
      Kind kind = layout.fields().get(c).kind();
      DataValidationConstraint rule =
          switch (kind) {
            case DONE_CUT -> between(rules, 0, specification.nominalLengthMm());
            case DONE_SETTING -> between(rules, -10_000, 10_000);
            case PHASE -> between(rules, -360, 360);
            case LOSS -> between(rules, 0, 200);
            case VSWR -> between(rules, 1, 1000);
            case TEMPERATURE -> between(rules, -100, 300);
            case BENCH -> rules.createFormulaListConstraint(BENCHES_NAME);
            case INITIALS -> rules.createTextLengthConstraint(OperatorType.BETWEEN, "1", "20");
            case DONE_AT ->
                rules.createDateConstraint(
                    OperatorType.GREATER_THAN, "DATE(2020,1,1)", null, "yyyy-mm-dd");
            default -> null;
          };
      if (rule == null) {
        continue;
      }
      DataValidation validation =
          rules.createValidation(rule, new CellRangeAddressList(HEAD_ROW + 1, last, c, c));
      validation.setShowErrorBox(true);
      validation.setErrorStyle(DataValidation.ErrorStyle.STOP);
      validation.createErrorBox(
          book.words().text("workbook.invalid"),
          book.words().text("workbook.invalid." + group(kind)));
      sheet.addValidationData(validation);
    }
  }

  private static DataValidationConstraint between(
      DataValidationHelper rules, double low, double high) {
    return rules.createDecimalConstraint(OperatorType.BETWEEN, "" + low, "" + high);
  }

  private static String group(Kind kind) {
    return switch (kind) {
      case BENCH -> "bench";
      case INITIALS -> "initials";
      case DONE_AT -> "date";
      case PHASE -> "phase";
      default -> "number";
    };
  }
}
