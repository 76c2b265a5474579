package org.equiphase.sheet;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import org.apache.poi.openxml4j.opc.OPCPackage;
import org.apache.poi.openxml4j.opc.PackageAccess;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;

/**
 * The one way by which workbooks of others come in. Before any of it is taken for a workbook, each
 * part is read once to its end and nothing is kept, so what a file claims about its own sizes does
 * not count. What passes can be parsed in little memory: no long piece of text or markup, few tags
 * outside the sheets, which are for streaming where they may be long.
 */
public final class WorkbookGate {

  private static final long MIB = 1024 * 1024;
  private static final int MOST_PARTS = 2_000;

  /** Sheets shrink to a tenth or so; what shrinks more than that was made to. */
  private static final long MOST_RATIO = 100;

  private static final long RATIO_COUNTS_FROM = MIB;

  /** Shared texts are held in memory while a sheet is read: 750 000 of them. */
  private static final long MOST_TEXT_BYTES = 32 * MIB;

  private static final long MOST_TEXT_TAGS = 1_500_000;
  private static final long MOST_TAGS = 100_000;

  /** Between two tags, or within one. */
  private static final long LONGEST_PIECE = MIB;

  private static final int BLOCK = 8192;
  private static final byte[] COMPOUND_FILE = {(byte) 0xD0, (byte) 0xCF, 0x11, (byte) 0xE0};

  /** Parts that make a workbook do more than hold cells. */
  private record Unwanted(String part, String messageKey) {}

  private static final List<Unwanted> UNWANTED =
      List.of(
          new Unwanted("vbaproject", "sheet.workbook.macros"),
          new Unwanted("/macrosheets/", "sheet.workbook.macros"),
          new Unwanted("/activex/", "sheet.workbook.macros"),
          new Unwanted("/externallinks/", "sheet.workbook.links"),
          new Unwanted("/connections.xml", "sheet.workbook.links"),
          new Unwanted("/querytables/", "sheet.workbook.links"),
          new Unwanted("/embeddings/", "sheet.workbook.embedded"));

  private WorkbookGate() {}

  /**
   * What a workbook may be.
   *
   * @param bytes of the file
   * @param unpackedBytes of all its parts together
   * @param sheetTags in each of its sheets; only where they are streamed may there be any number
   */
  public record Limits(long bytes, long unpackedBytes, long sheetTags) {}

  /** What is made of a workbook's parts. */
  public interface Reading<T> {
    T of(OPCPackage parts) throws Exception;
  }

  /**
   * Reads a workbook.
   *
   * @throws InvalidInputException saying what is wrong with the file; its field is {@code file}
   */
  public static <T> T read(byte[] content, Limits limits, Reading<T> reading) {
    if (content.length > limits.bytes()) {
      throw refusal(Sentence.of("sheet.workbook.tooLarge", content.length, limits.bytes()));
    }
    try {
      Path file = Files.createTempFile("workbook", ".xlsx");
      try {
        Files.write(file, content);
        check(file, limits);
        try (OPCPackage parts = OPCPackage.open(file.toFile(), PackageAccess.READ)) {
          return reading.of(parts);
        }
      } finally {
        Files.delete(file);
      }
    } catch (InvalidInputException e) {
      throw e;
    } catch (Exception e) {
      // What a broken or hostile workbook makes the library throw is of no fixed kind.
      throw refusal(Sentence.of("sheet.workbook.damaged"));
    }
  }

  public static InvalidInputException refusal(Sentence reason) {
    return InvalidInputException.of("file", reason);
  }

  private static void check(Path file, Limits limits) throws IOException {
    refuseOtherFormats(file);
    try (ZipFile zip = new ZipFile(file.toFile())) {
      if (zip.size() > MOST_PARTS) {
        throw refusal(Sentence.of("sheet.workbook.tooManyParts", MOST_PARTS));
      }
      long unpacked = 0;
      boolean workbook = false;
      for (ZipEntry entry : Collections.list(zip.entries())) {
        String name = "/" + entry.getName().toLowerCase(Locale.ROOT);
        refuseUnwanted(name);
        workbook |= name.equals("/xl/workbook.xml");
        unpacked += unpack(zip, entry, name, limits.unpackedBytes() - unpacked, limits.sheetTags());
      }
      if (!workbook) {
        throw refusal(Sentence.of("sheet.workbook.none"));
      }
    } catch (ZipException e) {
      throw refusal(Sentence.of("sheet.workbook.damaged"));
    }
  }

  private static void refuseOtherFormats(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      byte[] start = in.readNBytes(COMPOUND_FILE.length);
      if (Arrays.equals(start, COMPOUND_FILE)) {
        throw refusal(Sentence.of("sheet.workbook.encrypted"));
      }
      if (start.length < 2 || start[0] != 'P' || start[1] != 'K') {
        throw refusal(Sentence.of("sheet.workbook.none"));
      }
    }
  }

  private static void refuseUnwanted(String name) {
    for (Unwanted unwanted : UNWANTED) {
      if (name.contains(unwanted.part())) {
        throw refusal(Sentence.of(unwanted.messageKey()));
      }
    }
  }

  /** Reads a part to its end; answers with how long it is. */
  private static long unpack(
      ZipFile zip, ZipEntry entry, String name, long mostBytes, long mostSheetTags)
      throws IOException {
    boolean texts = name.endsWith("/sharedstrings.xml");
    boolean xml =
        (name.endsWith(".xml") || name.endsWith(".rels")) && !name.startsWith("/customxml/");
    long mostTags =
        name.startsWith("/xl/worksheets/") ? mostSheetTags : texts ? MOST_TEXT_TAGS : MOST_TAGS;
    Markup markup = new Markup();
    long length = 0;
    byte[] block = new byte[BLOCK];
    try (InputStream in = zip.getInputStream(entry)) {
      for (int read = in.read(block); read > 0; read = in.read(block)) {
        length += read;
        long ratio = length / Math.max(1, entry.getCompressedSize());
        if (length > RATIO_COUNTS_FROM && ratio > MOST_RATIO) {
          throw refusal(Sentence.of("sheet.workbook.bomb", entry.getName(), MOST_RATIO));
        }
        if (xml) {
          markup.read(block, read);
        }
        if (length > mostBytes
            || (texts && length > MOST_TEXT_BYTES)
            || markup.tags > mostTags
            || markup.longest > LONGEST_PIECE) {
          throw refusal(Sentence.of("sheet.workbook.unpacked", entry.getName()));
        }
      }
    }
    return length;
  }

  /** Follows the tags of a part, without taking them for XML yet. */
  private static final class Markup {

    private long tags;
    private long longest;
    private long piece;
    private boolean begun;
    private boolean opened;
    private boolean declared;

    /** In a CDATA section, which some libraries write. */
    private boolean inText;

    private int brackets;

    void read(byte[] block, int length) {
      if (!begun) {
        refuseMacros(block, length);
      }
      for (int i = 0; i < length; i++) {
        // Zeros are left out, so that letters of two bytes read like those of one.
        if (block[i] != 0) {
          next(block[i]);
        }
      }
    }

    private void next(byte letter) {
      if (inText) {
        inText = letter != '>' || brackets < 2;
        brackets = letter == ']' ? brackets + 1 : 0;
      } else {
        markup(letter);
      }
      piece = inText || !(opened || letter == '>') ? piece + 1 : 0;
      longest = Math.max(longest, piece);
    }

    private void markup(byte letter) {
      inText = declared && letter == '[';
      if ((declared && !inText) || (opened && letter == '?' && tags > 0)) {
        // Document types can pull in other files; comments can be of any length.
        throw refusal(Sentence.of("sheet.workbook.declarations"));
      }
      declared = opened && letter == '!';
      if (opened && !declared && letter != '/' && letter != '?') {
        tags++;
      }
      opened = letter == '<';
      begun |= opened;
      if (!begun && letter > ' ') {
        // A code in which our look would be blind.
        throw refusal(Sentence.of("sheet.workbook.damaged"));
      }
    }

    private static void refuseMacros(byte[] block, int length) {
      String start = new String(block, 0, length, StandardCharsets.ISO_8859_1);
      if (start.replace("\0", "").contains("macroEnabled")) {
        throw refusal(Sentence.of("sheet.workbook.macros"));
      }
    }
  }
}
