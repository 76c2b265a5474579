package org.equiphase.workbook;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.TreeSet;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xddf.usermodel.PresetColor;
import org.apache.poi.xddf.usermodel.PresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFNoFillProperties;
import org.apache.poi.xddf.usermodel.XDDFPresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFShapeProperties;
import org.apache.poi.xddf.usermodel.XDDFSolidFillProperties;
import org.apache.poi.xddf.usermodel.chart.AxisCrossBetween;
import org.apache.poi.xddf.usermodel.chart.AxisCrosses;
import org.apache.poi.xddf.usermodel.chart.AxisPosition;
import org.apache.poi.xddf.usermodel.chart.AxisTickLabelPosition;
import org.apache.poi.xddf.usermodel.chart.ChartTypes;
import org.apache.poi.xddf.usermodel.chart.DisplayBlanks;
import org.apache.poi.xddf.usermodel.chart.LegendPosition;
import org.apache.poi.xddf.usermodel.chart.MarkerStyle;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryAxis;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSourcesFactory;
import org.apache.poi.xddf.usermodel.chart.XDDFLineChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A set's members and their errors against the band, as numbers and as a chart. */
final class SetSheet {

  private static final int HEAD_ROW = 0;
  private static final int CHART_ROWS = 22;
  private static final int MOST_ON_ONE_PAGE = 32;
  private static final int LEAST_CHART_COLUMNS = 8;

  /** How far the chart goes, in half-widths of the band. */
  private static final double LEAST_BANDS = 1.2;

  private static final double MOST_BANDS = 4;

  private static final double NEAR_EDGE = 0.96;

  /** What differs less is one line in the chart. */
  private static final double SAME_BAND_DEG = 0.01;

  private static final PresetColor[] COLORS = {
    PresetColor.ROYAL_BLUE, PresetColor.DARK_ORANGE, PresetColor.SEA_GREEN, PresetColor.PURPLE,
  };

  private final Book book;
  private final XSSFSheet sheet;
  private final List<InstructionRow> members;
  private final OptionalDouble edgeDeg;
  private final boolean anyBeyond;
  private final List<String> heads = new ArrayList<>();
  private int nextRow = HEAD_ROW + 1;

  SetSheet(Book book, String setName, List<InstructionRow> members) {
    this.book = book;
    this.members = members;
    sheet = book.sheet(book.words().text("workbook.sheet.set", setName));
    edgeDeg = edgeDeg();
    anyBeyond = members.stream().anyMatch(member -> beyondDeg(member) != null);
  }

  void write(String footer) {
    XSSFRow head = sheet.createRow(HEAD_ROW);
    int size = members.get(0).spots().size();
    head(head, 16, Sentence.of("workbook.column.position"));
    head(head, 30, Sentence.of("workbook.column.serial"));
    head(head, 52, Sentence.of("workbook.column.action"));
    for (int k = 0; k < size; k++) {
      String ghz = Field.ghz(members.get(0).spots().get(k).frequencyHz());
      head(head, 19, Sentence.of("workbook.column.error", ghz));
      head(head, 19, Sentence.of("workbook.column.expected", ghz));
      head(head, 19, Sentence.of("workbook.column.lowest", ghz));
      head(head, 19, Sentence.of("workbook.column.highest", ghz));
    }
    if (anyBeyond) {
      head(head, 26, Sentence.of("workbook.column.beyond"));
    }
    Book.fit(head, 3);
    members.forEach(this::member);
    int last = nextRow - 1;
    int chartEnd = last;
    if (members.stream().anyMatch(m -> m.spots().get(0).errorDeg() != null)) {
      chart(size, last);
      chartEnd = last + 2 + CHART_ROWS;
    }
    sheet.createFreezePane(2, HEAD_ROW + 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    int lastColumn = Math.max(heads.size() - 1, LEAST_CHART_COLUMNS);
    book.print(sheet, Book.Page.LANDSCAPE, chartEnd, lastColumn, footer);
    if (members.size() <= MOST_ON_ONE_PAGE) {
      sheet.getPrintSetup().setFitHeight((short) 1);
    }
  }

  private void head(XSSFRow row, double widthMm, Sentence head) {
    int c = heads.size();
    String text = book.words().say(head);
    book.head(row, c, text, widthMm);
    heads.add(text);
  }

  private void member(InstructionRow member) {
    XSSFRow row = sheet.createRow(nextRow);
    nextRow++;
    book.text(row, 0, member.position(), Look.TEXT);
    book.text(row, 1, member.serial(), Look.TEXT);
    book.text(row, 2, book.words().say(member.action()), Look.TEXT);
    int c = 3;
    for (InstructionRow.Spot spot : member.spots()) {
      Double errorDeg = spot.errorDeg();
      Double acceptanceDeg = spot.acceptanceDeg();
      book.number(row, c++, errorDeg, Look.SIGNED_DEGREES);
      book.number(row, c++, afterDeg(member, spot), Look.SIGNED_DEGREES);
      book.number(row, c++, acceptanceDeg == null ? null : -acceptanceDeg, Look.SIGNED_DEGREES);
      book.number(row, c++, acceptanceDeg, Look.SIGNED_DEGREES);
    }
    if (anyBeyond) {
      book.number(row, c, beyondDeg(member), Look.SIGNED_DEGREES);
    }
    Book.fit(row, 1);
  }

  private static @Nullable Double afterDeg(InstructionRow member, InstructionRow.Spot spot) {
    Double errorDeg = spot.errorDeg();
    InstructionRow.Work work = member.work();
    return errorDeg == null || work == null
        ? null
        : (Double) (errorDeg + work.degPerMm(spot.frequencyHz()) * work.byMm());
  }

  private static DoubleStream drawnDeg(InstructionRow member) {
    return member.spots().stream()
        .flatMap(spot -> Stream.of(spot.errorDeg(), afterDeg(member, spot)))
        .filter(Objects::nonNull)
        .mapToDouble(Double::doubleValue);
  }

  /**
   * Where the chart ends: far enough for all points, but not so far that one of them would make the
   * band a line.
   */
  private OptionalDouble edgeDeg() {
    double bandDeg =
        members.stream()
            .flatMap(member -> member.spots().stream())
            .map(InstructionRow.Spot::acceptanceDeg)
            .filter(Objects::nonNull)
            .mapToDouble(Double::doubleValue)
            .max()
            .orElse(0);
    if (bandDeg <= 0) {
      return OptionalDouble.empty();
    }
    double farthestDeg =
        members.stream().flatMapToDouble(SetSheet::drawnDeg).map(Math::abs).max().orElse(0);
    double wantedDeg = Math.min(MOST_BANDS * bandDeg, Math.max(LEAST_BANDS * bandDeg, farthestDeg));
    double unitDeg = unitDeg(wantedDeg);
    return OptionalDouble.of(Math.ceil(wantedDeg / unitDeg) * unitDeg);
  }

  /** A round step of a scale that goes so far. */
  private static double unitDeg(double edgeDeg) {
    double leastDeg = edgeDeg / 5;
    double power = Math.pow(10, Math.floor(Math.log10(leastDeg)));
    return DoubleStream.of(1, 2, 2.5, 5, 10)
        .map(step -> step * power)
        .filter(unitDeg -> unitDeg >= leastDeg)
        .min()
        .orElseThrow();
  }

  /** Where a member is marked that lies beyond the edge: right inside it; null for others. */
  private @Nullable Double beyondDeg(InstructionRow member) {
    if (edgeDeg.isEmpty()) {
      return null;
    }
    double edge = edgeDeg.getAsDouble();
    return drawnDeg(member)
        .filter(degrees -> Math.abs(degrees) > edge)
        .boxed()
        .max(Comparator.comparing(Math::abs))
        .map(degrees -> Math.copySign(NEAR_EDGE * edge, degrees))
        .orElse(null);
  }

  private void chart(int size, int last) {
    int from = last + 2;
    XSSFClientAnchor anchor =
        sheet
            .createDrawingPatriarch()
            .createAnchor(
                0,
                0,
                0,
                0,
                0,
                from,
                Math.max(heads.size(), LEAST_CHART_COLUMNS),
                from + CHART_ROWS);
    XSSFChart chart = sheet.getDrawingPatriarch().createChart(anchor);
    chart.setTitleText(book.words().text("workbook.chart", sheet.getSheetName()));
    chart.setTitleOverlay(false);
    chart.displayBlanksAs(DisplayBlanks.GAP);
    chart.getOrAddLegend().setPosition(LegendPosition.BOTTOM);
    XDDFCategoryAxis across = chart.createCategoryAxis(AxisPosition.BOTTOM);
    across.setTitle(book.words().text("workbook.column.position"));
    across.setTickLabelPosition(AxisTickLabelPosition.LOW);
    XDDFValueAxis up = chart.createValueAxis(AxisPosition.LEFT);
    up.setTitle(book.words().text("workbook.chart.error"));
    up.setCrosses(AxisCrosses.MIN);
    up.setCrossBetween(AxisCrossBetween.BETWEEN);
    edgeDeg.ifPresent(
        edge -> {
          up.setMinimum(-edge);
          up.setMaximum(edge);
          up.setMajorUnit(unitDeg(edge));
        });
    XDDFLineChartData lines = (XDDFLineChartData) chart.createData(ChartTypes.LINE, across, up);
    lines.setVaryColors(false);
    XDDFCategoryDataSource positions =
        XDDFDataSourcesFactory.fromStringCellRange(
            sheet, new CellRangeAddress(HEAD_ROW + 1, last, 0, 0));
    TreeSet<Double> bands = new TreeSet<>();
    for (int k = 0; k < size; k++) {
      int c = 3 + 4 * k;
      XDDFColor color = XDDFColor.from(COLORS[k % COLORS.length]);
      points(series(lines, positions, c, last), color, MarkerStyle.CIRCLE);
      points(series(lines, positions, c + 1, last), color, MarkerStyle.X);
      if (bands.add(bandOf(k))) {
        limit(series(lines, positions, c + 2, last));
        limit(series(lines, positions, c + 3, last));
      }
    }
    if (anyBeyond) {
      XDDFColor color = XDDFColor.from(PresetColor.FIREBRICK);
      points(series(lines, positions, 3 + 4 * size, last), color, MarkerStyle.TRIANGLE);
    }
    chart.plot(lines);
  }

  /** What tells one frequency's band from another's: frequencies with one band share its lines. */
  private double bandOf(int k) {
    return members.stream()
        .map(member -> acceptanceDeg(member, k))
        .filter(Objects::nonNull)
        .mapToDouble(degrees -> Math.rint(degrees / SAME_BAND_DEG))
        .sum();
  }

  private static @Nullable Double acceptanceDeg(InstructionRow member, int k) {
    return member.spots().get(k).acceptanceDeg();
  }

  private XDDFLineChartData.Series series(
      XDDFLineChartData lines, XDDFCategoryDataSource positions, int column, int last) {
    XDDFLineChartData.Series series =
        (XDDFLineChartData.Series)
            lines.addSeries(
                positions,
                XDDFDataSourcesFactory.fromNumericCellRange(
                    sheet, new CellRangeAddress(HEAD_ROW + 1, last, column, column)));
    series.setTitle(
        heads.get(column), new CellReference(sheet.getSheetName(), HEAD_ROW, column, true, true));
    series.setSmooth(false);
    return series;
  }

  private static void points(XDDFLineChartData.Series series, XDDFColor color, MarkerStyle marker) {
    XDDFLineProperties none = new XDDFLineProperties(new XDDFNoFillProperties());
    series.setLineProperties(none);
    series.setMarkerStyle(marker);
    XDDFShapeProperties look = new XDDFShapeProperties();
    if (marker != MarkerStyle.X) {
      look.setFillProperties(new XDDFSolidFillProperties(color));
    } else {
      look.setFillProperties(new XDDFNoFillProperties());
    }
    look.setLineProperties(new XDDFLineProperties(new XDDFSolidFillProperties(color)));
    series.getCTLineSer().getMarker().setSpPr(look.getXmlObject());
  }

  private static void limit(XDDFLineChartData.Series series) {
    XDDFLineProperties dashed =
        new XDDFLineProperties(new XDDFSolidFillProperties(XDDFColor.from(PresetColor.FIREBRICK)));
    dashed.setPresetDash(new XDDFPresetLineDash(PresetLineDash.DASH));
    dashed.setWidth(1.5);
    series.setLineProperties(dashed);
    series.setMarkerStyle(MarkerStyle.NONE);
  }
}
