package org.equiphase.web;

import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.Part;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/** Tells whether two requests ask for the same: method, address and content, but not the tokens. */
final class RequestFingerprint {

  private static final Set<String> NOT_CONTENT = Set.of("_csrf", IdempotencyFilter.FIELD);

  private final MessageDigest digest = sha256();

  private RequestFingerprint(HttpServletRequest request) {
    add(request.getMethod());
    add(request.getRequestURI());
    add(request.getQueryString());
  }

  static String ofBody(HttpServletRequest request, byte[] body) {
    RequestFingerprint fingerprint = new RequestFingerprint(request);
    fingerprint.add(body);
    return fingerprint.hex();
  }

  static String ofForm(HttpServletRequest request) {
    RequestFingerprint fingerprint = new RequestFingerprint(request);
    for (Map.Entry<String, String[]> field : new TreeMap<>(request.getParameterMap()).entrySet()) {
      if (!NOT_CONTENT.contains(field.getKey())) {
        fingerprint.add(field.getKey());
        fingerprint.add(String.valueOf(field.getValue().length));
        for (String value : field.getValue()) {
          fingerprint.add(value);
        }
      }
    }
    return fingerprint.hex();
  }

  static String ofParts(HttpServletRequest request) throws IOException, ServletException {
    RequestFingerprint fingerprint = new RequestFingerprint(request);
    for (Part part : request.getParts()) {
      if (!NOT_CONTENT.contains(part.getName())) {
        fingerprint.add(part.getName());
        fingerprint.add(part.getSubmittedFileName());
        fingerprint.add(contentHash(part));
      }
    }
    return fingerprint.hex();
  }

  private static byte[] contentHash(Part part) throws IOException {
    MessageDigest content = sha256();
    try (InputStream stream = part.getInputStream()) {
      byte[] chunk = new byte[8192];
      for (int read = stream.read(chunk); read >= 0; read = stream.read(chunk)) {
        content.update(chunk, 0, read);
      }
    }
    return content.digest();
  }

  private void add(@Nullable String text) {
    add(text == null ? new byte[0] : text.getBytes(StandardCharsets.UTF_8));
  }

  /** With its length before it, so that content can't move from one field to the next. */
  private void add(byte[] bytes) {
    digest.update((bytes.length + ":").getBytes(StandardCharsets.US_ASCII));
    digest.update(bytes);
  }

  private String hex() {
    return HexFormat.of().formatHex(digest.digest());
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
