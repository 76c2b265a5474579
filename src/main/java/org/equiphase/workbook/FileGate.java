package org.equiphase.workbook;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;

/**
 * Looks at an uploaded file before any of it is read as a workbook. It reads every part once to its
 * end and keeps nothing, so what a file claims about its own sizes does not count.
 */
final class FileGate {

  static final int MOST_BYTES = 20 * 1024 * 1024;

  private static final int MOST_PARTS = 2_000;
  private static final long MOST_UNPACKED = 600L * 1024 * 1024;

  /** Shared texts are held in memory while a sheet is read. */
  private static final long MOST_TEXTS = 64L * 1024 * 1024;

  /** Sheets shrink to a tenth or so; what shrinks more than that was made to. */
  private static final long MOST_RATIO = 100;

  private static final long RATIO_COUNTS_FROM = 1024 * 1024;
  private static final int PROLOG = 4096;

  private static final byte[] COMPOUND_FILE = {(byte) 0xD0, (byte) 0xCF, 0x11, (byte) 0xE0};

  /** Parts that make a workbook do more than hold cells. */
  private record Unwanted(String part, String messageKey) {}

  private static final List<Unwanted> UNWANTED =
      List.of(
          new Unwanted("vbaproject", "workbook.file.macros"),
          new Unwanted("/macrosheets/", "workbook.file.macros"),
          new Unwanted("/activex/", "workbook.file.macros"),
          new Unwanted("/externallinks/", "workbook.file.links"),
          new Unwanted("/connections.xml", "workbook.file.links"),
          new Unwanted("/querytables/", "workbook.file.links"),
          new Unwanted("/embeddings/", "workbook.file.embedded"));

  private FileGate() {}

  /**
   * @throws InvalidInputException saying what is wrong with the file
   */
  static void check(Path file) throws IOException {
    long size = Files.size(file);
    if (size > MOST_BYTES) {
      throw refusal(Sentence.of("workbook.file.tooLarge", MOST_BYTES / 1024 / 1024));
    }
    refuseOtherFormats(file);
    try (ZipFile zip = new ZipFile(file.toFile())) {
      if (zip.size() > MOST_PARTS) {
        throw refusal(Sentence.of("workbook.file.tooManyParts", MOST_PARTS));
      }
      long unpacked = 0;
      boolean workbook = false;
      for (ZipEntry part : Collections.list(zip.entries())) {
        String name = "/" + part.getName().toLowerCase(Locale.ROOT);
        refuseUnwanted(name);
        workbook |= name.equals("/xl/workbook.xml");
        unpacked += unpack(zip, part, name, MOST_UNPACKED - unpacked);
      }
      if (!workbook) {
        throw refusal(Sentence.of("workbook.file.noWorkbook"));
      }
    } catch (ZipException | IllegalArgumentException e) {
      throw refusal(Sentence.of("workbook.file.damaged"));
    }
  }

  private static void refuseOtherFormats(Path file) throws IOException {
    byte[] start = new byte[4];
    try (InputStream in = Files.newInputStream(file)) {
      int read = in.readNBytes(start, 0, start.length);
      if (read == start.length && java.util.Arrays.equals(start, COMPOUND_FILE)) {
        throw refusal(Sentence.of("workbook.file.encrypted"));
      }
      if (read < start.length || start[0] != 'P' || start[1] != 'K') {
        throw refusal(Sentence.of("workbook.file.noWorkbook"));
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
  private static long unpack(ZipFile zip, ZipEntry part, String name, long most)
      throws IOException {
    boolean texts = name.endsWith("/sharedstrings.xml");
    boolean xml = name.endsWith(".xml") || name.endsWith(".rels") || name.endsWith(".vml");
    long length = 0;
    try (InputStream in = zip.getInputStream(part)) {
      byte[] block = new byte[PROLOG];
      for (int read = in.readNBytes(block, 0, PROLOG);
          read > 0;
          read = in.readNBytes(block, 0, PROLOG)) {
        if (xml && length == 0) {
          refuseDeclarations(new String(block, 0, read, StandardCharsets.ISO_8859_1));
        }
        length += read;
        boolean blownUp =
            length > RATIO_COUNTS_FROM
                && length / Math.max(1, part.getCompressedSize()) > MOST_RATIO;
        if (blownUp) {
          throw refusal(Sentence.of("workbook.file.bomb", part.getName()));
        }
        if (length > most || (texts && length > MOST_TEXTS)) {
          throw refusal(Sentence.of("workbook.file.unpacked", part.getName()));
        }
      }
    }
    return length;
  }

  /** Such declarations can pull in other files; no spreadsheet program writes any. */
  private static void refuseDeclarations(String prolog) {
    // Two bytes a letter hide it from a plain look.
    String plain = prolog.replace("\0", "");
    if (plain.contains("<!DOCTYPE") || plain.contains("<!ENTITY")) {
      throw refusal(Sentence.of("workbook.file.declarations"));
    }
    if (plain.contains("macroEnabled")) {
      throw refusal(Sentence.of("workbook.file.macros"));
    }
  }

  static InvalidInputException refusal(Sentence reason) {
    return InvalidInputException.of("file", reason);
  }
}
