package org.equiphase.fuzz;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.measurement.SpotFileFuzz;
import org.equiphase.rf.touchstone.TouchstoneFuzz;
import org.equiphase.sheet.TableFile;
import org.equiphase.sheet.TableFileFuzz;
import org.equiphase.workbook.WorkbookFuzz;

/**
 * All that reads files, with good files of each kind.
 *
 * @param good files it reads
 * @param words of its format
 * @param longest file it is given, bytes
 */
record Readers(
    String name, Consumer<byte[]> reader, List<byte[]> good, List<String> words, int longest) {

  private static final String SHEET = "xl/worksheets/sheet1.xml";
  private static final String TEXTS = "xl/sharedStrings.xml";
  private static final String STYLES = "xl/styles.xml";
  private static final String BOOK = "xl/workbook.xml";
  private static final int MEGABYTE = 1 << 20;

  private static final List<String> TOUCHSTONE_WORDS =
      List.of(
          "#",
          "!",
          "[Version] 2.0",
          "[Version] 2.1",
          "[Number of Ports] 2",
          "[Number of Ports] 99",
          "[Two-Port Data Order] 21_12",
          "[Number of Frequencies] 3",
          "[Number of Noise Frequencies] 2",
          "[Reference] 50 75",
          "[Matrix Format] Lower",
          "[Network Data]",
          "[Noise Data]",
          "[End]",
          "[Begin Information]",
          "[End Information]",
          "[Mixed-Mode Order] D1,2 C1,2",
          "GHz",
          "Hz",
          "S",
          "Y",
          "Z",
          "MA",
          "DB",
          "RI",
          "R 50",
          "R",
          "# GHz S RI R 50\n",
          "1 0 0 0 0 0 0 0 0\n");

  private static final List<String> TABLE_WORDS =
      List.of(
          "order",
          "title",
          "due",
          "template",
          "cable_type",
          "frequency_mhz",
          "tolerance_deg",
          "set",
          "position",
          "serial",
          "serial,",
          "\n\n",
          "\"\"",
          "\"\n",
          "{1..3}",
          "{001..999}",
          "{9..1}",
          "{1..99999999}",
          "{}",
          "2026-11-30",
          "phase_deg",
          "frequency_hz",
          "temperature_c",
          "vswr");

  private static final List<String> XML_WORDS =
      List.of(
          "<row r=\"1\">",
          "<row r=\"0\">",
          "<row r=\"99999999\">",
          "<row r=\"-1\">",
          "</row>",
          "<c r=\"A1\" t=\"s\"><v>0</v></c>",
          "<c r=\"A1\" t=\"s\"><v>99</v></c>",
          "<c r=\"A1\" t=\"s\"><v>-1</v></c>",
          "<c r=\"A1\" t=\"s\"><v>x</v></c>",
          "<c r=\"ZZZZ1\"><v>1</v></c>",
          "<c r=\"A\"><v>1</v></c>",
          "<c r=\"\"><v>1</v></c>",
          "<c t=\"e\"><v>#N/A</v></c>",
          "<c t=\"b\"><v>1</v></c>",
          "<c t=\"d\"><v>x</v></c>",
          "<c t=\"inlineStr\"><is><t>x</t></is></c>",
          "<c s=\"99\"><v>1</v></c>",
          "<c s=\"x\"><v>1</v></c>",
          "<f>A1</f>",
          "<f t=\"shared\" si=\"9\"/>",
          "<v>NaN</v>",
          "<v>1e999</v>",
          "<mergeCell ref=\"A1:B2\"/>",
          "<mergeCell ref=\"\"/>",
          "<mergeCell/>",
          "<mergeCells>",
          "</mergeCells>",
          "<!DOCTYPE a>",
          "<!--",
          "<![CDATA[",
          "&lt;",
          "&x;",
          "&#0;",
          "<si><t>x</t></si>",
          "<si/>",
          "count=\"999999999\"",
          "<sheetData>",
          "</sheetData>",
          " xmlns:a=\"b\"",
          "r:id=\"rId9\"",
          "<sheet name=\"x\"/>");

  static List<Readers> all() {
    Package orders = Package.of(orders());
    Package back = Package.of(WorkbookFuzz.good());
    return List.of(
        new Readers(
            "Touchstone",
            TouchstoneFuzz::fuzzerTestOneInput,
            touchstone(),
            TOUCHSTONE_WORDS,
            MEGABYTE),
        new Readers(
            "CSV of phases",
            SpotFileFuzz::fuzzerTestOneInput,
            List.of(
                bytes("serial,frequency_ghz,phase_deg,vswr\nA-1,2.8,-12.25,1.08\nA-1,2.9,3,1.1\n"),
                bytes("frequency_mhz;phase_deg;temperature_c\n2800;-12,25;22,5\n")),
            TABLE_WORDS,
            MEGABYTE),
        new Readers(
            "CSV of orders",
            TableFileFuzz::fuzzerTestOneInput,
            List.of(
                bytes("order,title,set,position,serial\nO-1,one,A,CH{1..3},S-{01..03}\nO-1,,,,\n"),
                bytes("order;title\n\"a;b\";\"c\"\"d\"\n")),
            TABLE_WORDS,
            TableFile.MOST_BYTES),
        new Readers(
            "XLSX of orders, the file",
            TableFileFuzz::fuzzerTestOneInput,
            List.of(orders()),
            List.of("PK\u0003\u0004", "xl/", "[Content_Types].xml", "PK\u0001\u0002"),
            MEGABYTE),
        part("XLSX of orders, its sheet", TableFileFuzz::fuzzerTestOneInput, orders, SHEET),
        part("XLSX of orders, its texts", TableFileFuzz::fuzzerTestOneInput, orders, TEXTS),
        part("XLSX of orders, its styles", TableFileFuzz::fuzzerTestOneInput, orders, STYLES),
        part("XLSX of orders, its list of sheets", TableFileFuzz::fuzzerTestOneInput, orders, BOOK),
        new Readers(
            "Workbook back, the file",
            WorkbookFuzz::fuzzerTestOneInput,
            List.of(WorkbookFuzz.good()),
            List.of("PK\u0003\u0004", "xl/", "[Content_Types].xml", "PK\u0001\u0002"),
            MEGABYTE),
        part("Workbook back, its sheet", WorkbookFuzz::fuzzerTestOneInput, back, SHEET),
        part("Workbook back, its texts", WorkbookFuzz::fuzzerTestOneInput, back, TEXTS),
        part("Workbook back, its list of sheets", WorkbookFuzz::fuzzerTestOneInput, back, BOOK));
  }

  /** The first whose name begins so. */
  static Readers named(String start) {
    return all().stream().filter(each -> each.name().startsWith(start)).findFirst().orElseThrow();
  }

  /** A part of a workbook is broken, so that the fault lies deeper than in the packing. */
  private static Readers part(String name, Consumer<byte[]> reader, Package book, String part) {
    return new Readers(
        name,
        content -> reader.accept(book.with(part, content)),
        List.of(book.part(part)),
        XML_WORDS,
        MEGABYTE);
  }

  private static List<byte[]> touchstone() {
    List<byte[]> files = new ArrayList<>();
    try (Stream<Path> paths = Files.list(Path.of("src/test/resources/touchstone"))) {
      for (Path path : paths.filter(p -> p.toString().matches(".*\\.s[12]p")).sorted().toList()) {
        files.add(Files.readAllBytes(path));
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return files;
  }

  static byte[] orders() {
    try (XSSFWorkbook book = new XSSFWorkbook();
        ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      XSSFSheet sheet = book.createSheet();
      String[] heads = {"order", "title", "set", "position", "serial", "nominal_length_mm"};
      for (int r = 0; r < 4; r++) {
        var row = sheet.createRow(r);
        for (int c = 0; c < heads.length; c++) {
          var cell = row.createCell(c);
          if (r == 0) {
            cell.setCellValue(heads[c]);
          } else if (c == heads.length - 1) {
            cell.setCellValue(1000.5 + r);
          } else {
            cell.setCellValue(heads[c] + r);
          }
        }
      }
      sheet.getRow(2).createCell(heads.length).setCellFormula("F3*2");
      book.write(out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  Fuzzing fuzzing() {
    return new Fuzzing(name.replaceAll("\\W+", "-"), reader);
  }
}
