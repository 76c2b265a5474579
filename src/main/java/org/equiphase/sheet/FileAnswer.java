package org.equiphase.sheet;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import org.springframework.core.io.FileSystemResource;
import org.springframework.core.io.Resource;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;

/** Answers that are kept as a file under a name of their own. */
public final class FileAnswer {

  public static final String PDF = MediaType.APPLICATION_PDF_VALUE;
  public static final String XLSX =
      "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
  public static final String ZIP = "application/zip";
  public static final String CSV = "text/csv;charset=UTF-8";

  private FileAnswer() {}

  /** A PDF; the name is given without ending. */
  public static ResponseEntity<byte[]> pdf(String name, byte[] content) {
    return file(name + ".pdf", PDF, content);
  }

  /** A workbook; the name is given without ending. */
  public static ResponseEntity<byte[]> xlsx(String name, byte[] content) {
    return file(name + ".xlsx", XLSX, content);
  }

  /** A table as text; the name is given without ending. */
  public static ResponseEntity<byte[]> csv(String name, byte[] content) {
    return file(name + ".csv", CSV, content);
  }

  /** A file that lies on disk; the name is given with its ending. */
  public static ResponseEntity<Resource> stored(String name, String type, Path file) {
    return file(name, type, new FileSystemResource(file));
  }

  private static <T> ResponseEntity<T> file(String name, String type, T content) {
    return ResponseEntity.ok()
        .contentType(MediaType.parseMediaType(type))
        .header(HttpHeaders.CONTENT_DISPOSITION, disposition(name))
        .body(content);
  }

  /** The header that names a file to be kept. */
  public static String disposition(String name) {
    return ContentDisposition.attachment()
        .filename(safe(name), StandardCharsets.UTF_8)
        .build()
        .toString();
  }

  /** A name that every file system takes. */
  public static String safe(String name) {
    return name.replaceAll("[^\\p{L}\\p{N}._-]+", "-");
  }
}
