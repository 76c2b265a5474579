package org.equiphase;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;

/** Builds the body of a multipart/form-data request. */
public final class Multipart {

  private static final String BOUNDARY = "equiphase-test-boundary";

  private final ByteArrayOutputStream body = new ByteArrayOutputStream();

  public Multipart field(String name, String value) {
    return part("name=\"" + name + "\"", value.getBytes(StandardCharsets.UTF_8));
  }

  public Multipart file(String name, String filename, byte[] content) {
    return part("name=\"" + name + "\"; filename=\"" + filename + "\"", content);
  }

  String contentType() {
    return "multipart/form-data; boundary=" + BOUNDARY;
  }

  byte[] bytes() {
    ByteArrayOutputStream whole = new ByteArrayOutputStream();
    whole.writeBytes(body.toByteArray());
    whole.writeBytes(("--" + BOUNDARY + "--\r\n").getBytes(StandardCharsets.US_ASCII));
    return whole.toByteArray();
  }

  private Multipart part(String disposition, byte[] content) {
    String head =
        "--" + BOUNDARY + "\r\nContent-Disposition: form-data; " + disposition + "\r\n\r\n";
    body.writeBytes(head.getBytes(StandardCharsets.UTF_8));
    body.writeBytes(content);
    body.writeBytes("\r\n".getBytes(StandardCharsets.US_ASCII));
    return this;
  }
}
