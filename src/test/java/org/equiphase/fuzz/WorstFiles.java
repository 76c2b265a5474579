package org.equiphase.fuzz;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.equiphase.sheet.TableFile;
import org.equiphase.workbook.WorkbookFuzz;

/** Files as large as they are let in, made of whatever might cost a reader most. */
final class WorstFiles {

  /** As much as {@link org.equiphase.rf.touchstone.ReadLimits#USUAL} lets through. */
  private static final int SWEEP = 20_000_000;

  private static final int SPOTS = 1 << 20;
  private static final int UNPACKED = 8_000_000;

  /** What {@link TableFile} lets through. */
  private static final int TAGS = 147_000;

  private static final String SHEET = "xl/worksheets/sheet1.xml";

  private WorstFiles() {}

  /** The worst for the reader whose name begins so; made one by one, since they are large. */
  static Stream<byte[]> of(String reader) {
    return switch (reader) {
      case "Touchstone" ->
          filled(
              SWEEP,
              "!\n",
              "\n",
              "! ",
              "#",
              "# ",
              "[",
              "[a]\n",
              "1 ",
              "9",
              "1\n",
              "1 0 0 0\n",
              "1 0 0 0 0 0 0 0 0\n",
              "\t",
              "[Reference] ",
              "1e",
              "-",
              "\u0000");
      case "CSV of phases" ->
          filled(SPOTS, ",", ";", "\"", "\"\"", "\n", "\"\n\",", "a,", "\r", "9");
      case "CSV of orders" ->
          Stream.concat(
              filled(
                  TableFile.MOST_BYTES,
                  ",",
                  ";",
                  "\t",
                  "\"",
                  "\"\"",
                  "\n",
                  "\"\n\",",
                  "a,",
                  "\r",
                  "9"),
              Stream.of("order\na,", "order\n{1..9}", "order,set\n,a\n")
                  .map(
                      start ->
                          filled(
                              start, start.substring(start.length() - 2), TableFile.MOST_BYTES)));
      case "XLSX of orders" -> sheets(Package.of(Readers.orders()));
      case "Workbook back" -> sheets(Package.of(WorkbookFuzz.good()));
      default -> throw new IllegalArgumentException(reader);
    };
  }

  static List<String> readers() {
    return List.of(
        "Touchstone", "CSV of phases", "CSV of orders", "XLSX of orders", "Workbook back");
  }

  private static Stream<byte[]> filled(int length, String... pieces) {
    return Stream.of(pieces)
        .flatMap(
            piece -> Stream.of("", "# GHz S RI R 50\n").map(head -> filled(head, piece, length)));
  }

  private static byte[] filled(String head, String piece, int length) {
    return (head + piece.repeat((length - head.length()) / piece.length()))
        .getBytes(StandardCharsets.UTF_8);
  }

  /**
   * Sheets with as much of something as fits; numbered, since what is too much alike is refused.
   */
  private static Stream<byte[]> sheets(Package book) {
    String xml = new String(book.part(SHEET), StandardCharsets.UTF_8);
    UnaryOperator<String> inRows = part -> xml.replace("</sheetData>", part + "</sheetData>");
    UnaryOperator<String> inOneRow = part -> inRows.apply("<row r=\"999999\">" + part + "</row>");
    UnaryOperator<String> merged =
        part -> xml.replace("</sheetData>", "</sheetData><mergeCells>" + part + "</mergeCells>");
    return Stream.of(
            inRows.apply(numbered("<row r=\"%d\"/>")),
            inRows.apply(numbered("<row r=\"%1$d\"><c r=\"A%1$d\"/></row>")),
            inRows.apply(numbered("<row r=\"%1$d\"><c r=\"A%1$d\"><v>%1$d</v></c></row>")),
            inRows.apply(
                numbered(
                    "<row r=\"%1$d\"><c r=\"A%1$d\" t=\"inlineStr\"><is><t>%1$d</t></is></c></row>")),
            inRows.apply(numbered("<row r=\"%1$d\"><c r=\"A%1$d\"><f>B%1$d</f><v>1</v></c></row>")),
            inRows.apply(numbered("<a%d>")),
            inRows.apply(numbered("<!--%d-->")),
            inRows.apply(numbered("&lt;%d")),
            inOneRow.apply(numbered("<c r=\"A%d\"><v>1</v></c>")),
            inOneRow.apply(numbered("<c r=\"A%d\"><f>A1</f></c>")),
            inOneRow.apply(numbered("<c s=\"%d\"/>")),
            merged.apply(numbered("<mergeCell ref=\"A%1$d:B%1$d\"/>")))
        .map(sheet -> book.with(SHEET, sheet.getBytes(StandardCharsets.UTF_8)));
  }

  private static String numbered(String piece) {
    int tags = Math.max(1, (int) piece.chars().filter(c -> c == '<').count());
    StringBuilder whole = new StringBuilder();
    for (int i = 10; whole.length() < UNPACKED && i < TAGS / tags; i++) {
      whole.append(String.format(piece, i));
    }
    return whole.toString();
  }
}
