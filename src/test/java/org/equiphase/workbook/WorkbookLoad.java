package org.equiphase.workbook;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.BufferedOutputStream;
import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Words;
import org.equiphase.web.Figure;
import org.equiphase.web.Sentence;
import org.equiphase.workbook.InstructionRow.Spot;
import org.equiphase.workbook.InstructionRow.Work;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;

/**
 * How long the sheet of instructions takes to write, beside a bare loop over POI's streaming sheet
 * that writes the same cells to the same kind of file, in turn, with 256 MB of heap; then how long
 * the same sheet, as many of its rows filled in as may be, takes to be read again with that heap.
 *
 * <p>Argument: number of rows, by default 100000.
 */
public final class WorkbookLoad {

  private static final String HEAP = "-Xmx256m";
  private static final int ROUNDS = 5;
  private static final int MOST_FILLED = 10_000;
  private static final double V = 0.695;
  private static final String ROW_MARK = "\u0001";

  private WorkbookLoad() {}

  public static void main(String[] arguments) throws IOException, InterruptedException {
    if (Runtime.getRuntime().maxMemory() > 300L * 1024 * 1024) {
      List<String> command = new ArrayList<>();
      command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
      command.addAll(List.of(HEAP, "-cp", System.getProperty("java.class.path")));
      command.add(WorkbookLoad.class.getName());
      Stream.of(arguments).forEach(command::add);
      System.exit(new ProcessBuilder(command).inheritIO().start().waitFor());
    }
    int rows =
        arguments.length == 0 || arguments[0].isBlank() ? 100_000 : Integer.parseInt(arguments[0]);
    List<String[]> cells = cellsOfARow();
    List<Double> ratios = new ArrayList<>();
    System.out.println("| round | ours, s | bare loop, s | ratio | file, MB, ours and bare |");
    System.out.println("| --- | --- | --- | --- | --- |");
    for (int round = 0; round <= ROUNDS; round++) {
      Path ours = Files.createTempFile("ours", ".xlsx");
      Path bare = Files.createTempFile("bare", ".xlsx");
      double oursS = seconds(() -> ours(rows, ours));
      double bareS = seconds(() -> bare(rows, cells, bare));
      if (round > 0) {
        ratios.add(oursS / bareS);
        System.out.printf(
            Locale.ROOT,
            "| %d | %.1f | %.1f | %.2f | %.1f, %.1f |%n",
            round,
            oursS,
            bareS,
            oursS / bareS,
            Files.size(ours) / 1e6,
            Files.size(bare) / 1e6);
      }
      Files.delete(ours);
      Files.delete(bare);
    }
    ratios.sort(null);
    System.out.printf(
        Locale.ROOT,
        "%d rows of %d cells: median ratio %.2f with %s%n",
        rows,
        cells.size(),
        ratios.get(ratios.size() / 2),
        HEAP);
    back(rows);
  }

  private static void back(int rows) throws IOException {
    Path written = Files.createTempFile("ours", ".xlsx");
    ours(rows, written);
    byte[] filled = filled(written);
    Files.delete(written);
    WorkbookReader reader = new WorkbookReader(Layout.widest(SPECIFICATION), filled.length);
    int[] found = new int[1];
    double readS = seconds(() -> found[0] = reader.read(filled).size());
    System.out.printf(
        Locale.ROOT,
        "read again: %d of %d rows filled in, %.1f MB, %.1f s with %s%n",
        found[0],
        rows,
        filled.length / 1e6,
        readS,
        HEAP);
  }

  /** The first rows with all their cells for the floor filled in. */
  private static byte[] filled(Path written) throws IOException {
    int last = 3 + MOST_FILLED;
    Pattern blank = Pattern.compile("<c r=\"([A-Z]+)(\\d+)\" s=\"(\\d+)\"(?:/>|></c>)");
    List<Field> fields = Layout.of(SPECIFICATION, List.of()).fields();
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ZipFile in = new ZipFile(written.toFile());
        ZipOutputStream out = new ZipOutputStream(bytes)) {
      for (ZipEntry part : Collections.list(in.entries())) {
        out.putNextEntry(new ZipEntry(part.getName()));
        if (!part.getName().startsWith("xl/worksheets/sheet")) {
          in.getInputStream(part).transferTo(out);
          continue;
        }
        BufferedReader lines =
            new BufferedReader(new InputStreamReader(in.getInputStream(part), UTF_8));
        for (String line = lines.readLine(); line != null; line = lines.readLine()) {
          String whole =
              blank
                  .matcher(line)
                  .replaceAll(
                      cell ->
                          Integer.parseInt(cell.group(2)) <= last
                                  && fields
                                      .get(CellReference.convertColStringToIndex(cell.group(1)))
                                      .kind()
                                      .isFilledIn()
                              ? "<c r=\"$1$2\" s=\"$3\"><v>$2</v></c>"
                              : "$0");
          out.write(whole.getBytes(UTF_8));
        }
      }
    }
    return bytes.toByteArray();
  }

  private interface Run {
    void run() throws IOException;
  }

  private static double seconds(Run run) throws IOException {
    long startedNs = System.nanoTime();
    run.run();
    return (System.nanoTime() - startedNs) / 1e9;
  }

  private static void ours(int rows, Path file) throws IOException {
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file));
        Book book = new Book(new Words(Locale.ENGLISH))) {
      InstructionSheet sheet =
          new InstructionSheet(book, Layout.of(SPECIFICATION, List.of()), SPECIFICATION);
      for (int i = 0; i < rows; i++) {
        sheet.add(member(i));
      }
      sheet.finish("footer");
      book.writeTo(out);
    }
  }

  /** Each cell's type, style and content, the row's number marked, taken from our own sheet. */
  private static List<String[]> cellsOfARow() throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (Book book = new Book(new Words(Locale.ENGLISH))) {
      InstructionSheet sheet =
          new InstructionSheet(book, Layout.of(SPECIFICATION, List.of()), SPECIFICATION);
      sheet.add(member(0));
      sheet.finish("footer");
      book.writeTo(bytes);
    }
    List<String[]> cells = new ArrayList<>();
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(bytes.toByteArray()))) {
      for (Cell cell : book.getSheetAt(0).getRow(3)) {
        String content =
            switch (cell.getCellType()) {
              case FORMULA -> cell.getCellFormula().replaceAll("(?<=\\b[A-Z]{1,2})4\\b", ROW_MARK);
              case NUMERIC -> "" + cell.getNumericCellValue();
              case STRING -> cell.getStringCellValue();
              default -> "";
            };
        cells.add(new String[] {cell.getCellType().name(), content});
      }
    }
    return cells;
  }

  private static void bare(int rows, List<String[]> cells, Path file) throws IOException {
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file));
        SXSSFWorkbook book = new SXSSFWorkbook(100)) {
      SXSSFSheet sheet = book.createSheet("bare");
      int size = cells.size();
      CellStyle[] styles = new CellStyle[size];
      CellType[] types = new CellType[size];
      String[] texts = new String[size];
      double[] numbers = new double[size];
      for (int c = 0; c < size; c++) {
        styles[c] = book.createCellStyle();
        types[c] = CellType.valueOf(cells.get(c)[0]);
        texts[c] = cells.get(c)[1];
        numbers[c] = types[c] == CellType.NUMERIC ? Double.parseDouble(texts[c]) : 3.123456789;
      }
      for (int r = 0; r < rows; r++) {
        Row row = sheet.createRow(r);
        String number = "" + (r + 1);
        for (int c = 0; c < size; c++) {
          Cell cell = row.createCell(c);
          switch (types[c]) {
            case FORMULA -> {
              cell.setCellFormula(texts[c].replace(ROW_MARK, number));
              cell.setCellValue(numbers[c] + r * 1e-6);
            }
            case NUMERIC -> cell.setCellValue(numbers[c] + r * 1e-6);
            case STRING -> cell.setCellValue(texts[c]);
            default -> {}
          }
          cell.setCellStyle(styles[c]);
        }
      }
      book.write(out);
    }
  }

  static final Specification SPECIFICATION =
      new Specification(
          1,
          "SMA",
          0.9,
          0,
          0,
          Method.TRANSMISSION,
          Basis.SET,
          Turns.ABSOLUTE,
          1000,
          10,
          null,
          20,
          0.1,
          0.05,
          0.02,
          null,
          null,
          0.3,
          null,
          23,
          null,
          null,
          DecisionRule.SIMPLE,
          1,
          List.of(
              new FrequencySpecification(2.76e9, 3, null, null, null),
              new FrequencySpecification(2.8e9, 3, null, null, null),
              new FrequencySpecification(2.84e9, 3, null, null, null)));

  private static InstructionRow member(int i) {
    Work work = new Work(true, 1 / V, -0.1, 0.1, 0, 3.2);
    List<Spot> spots =
        SPECIFICATION.frequencies().stream()
            .map(
                f ->
                    new Spot(
                        f.frequencyHz(),
                        0.25,
                        -4800.123456,
                        -4815.654321 + i * 1e-6,
                        -15.530865 + i * 1e-6,
                        2.5))
            .toList();
    String serial = "EQ-" + i;
    return new InstructionRow(
        serial,
        "Set " + i / 16,
        "CH" + i % 16,
        Sentence.of("workbook.do.cut", Figure.plain(3.2), Figure.of(3.2 / 25.4, 3)),
        (long) i,
        (long) i,
        spots,
        work,
        0.987,
        new RowKey(1, i, i, i, 0).text(serial));
  }
}
