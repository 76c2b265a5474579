package org.equiphase.station;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.HexFormat;
import java.util.List;

/**
 * A file as it was read.
 *
 * @param hash SHA-256 of name and content
 */
record OutgoingFile(Path path, FileTime changed, byte[] content, String hash) {

  static OutgoingFile read(Path path) throws IOException {
    FileTime changed = Files.getLastModifiedTime(path);
    byte[] content = Files.readAllBytes(path);
    return new OutgoingFile(
        path, changed, content, sha256(name(path).getBytes(StandardCharsets.UTF_8), content));
  }

  String name() {
    return name(path);
  }

  Instant takenAt() {
    return changed.toInstant();
  }

  /** Whether the file still is what was read; if not, it was not complete then. */
  boolean unchanged() throws IOException {
    BasicFileAttributes now = Files.readAttributes(path, BasicFileAttributes.class);
    return now.size() == content.length && now.lastModifiedTime().equals(changed);
  }

  /**
   * The same for each try to send this file with these fields, so that the service stores it once;
   * another where a field differs, since one key stands for one request.
   */
  String key(List<String> fields) {
    return sha256(
        hash.getBytes(StandardCharsets.UTF_8),
        String.join("\n", fields).getBytes(StandardCharsets.UTF_8));
  }

  private static String name(Path path) {
    return path.getFileName().toString();
  }

  private static String sha256(byte[] first, byte[] second) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      digest.update(first);
      digest.update((byte) 0);
      digest.update(second);
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
