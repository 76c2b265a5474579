package org.equiphase.fuzz;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.Deflater;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;

/** A workbook's parts, so that one of them can be broken and the rest stay good. */
record Package(Map<String, byte[]> parts) {

  static Package of(byte[] workbook) {
    Map<String, byte[]> parts = new LinkedHashMap<>();
    try {
      Path file = Files.createTempFile("package", ".xlsx");
      Files.write(file, workbook);
      try (ZipFile zip = new ZipFile(file.toFile())) {
        for (ZipEntry part : Collections.list(zip.entries())) {
          parts.put(part.getName(), zip.getInputStream(part).readAllBytes());
        }
      } finally {
        Files.delete(file);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return new Package(parts);
  }

  byte[] part(String name) {
    byte[] part = parts.get(name);
    if (part == null) {
      throw new IllegalArgumentException("no " + name + " in " + parts.keySet());
    }
    return part;
  }

  /** The workbook with another part in that place. */
  byte[] with(String name, byte[] content) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(out)) {
      zip.setLevel(Deflater.BEST_SPEED);
      for (Map.Entry<String, byte[]> part : parts.entrySet()) {
        zip.putNextEntry(new ZipEntry(part.getKey()));
        zip.write(part.getKey().equals(name) ? content : part.getValue());
        zip.closeEntry();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return out.toByteArray();
  }
}
