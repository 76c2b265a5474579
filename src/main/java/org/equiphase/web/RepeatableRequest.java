package org.equiphase.web;

import jakarta.servlet.ReadListener;
import jakarta.servlet.ServletInputStream;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;

/** A request whose body was read once already, and is given to whoever reads it next. */
final class RepeatableRequest extends HttpServletRequestWrapper {

  private final byte[] body;

  RepeatableRequest(HttpServletRequest request, byte[] body) {
    super(request);
    this.body = body;
  }

  @Override
  public ServletInputStream getInputStream() {
    ByteArrayInputStream content = new ByteArrayInputStream(body);
    return new ServletInputStream() {
      @Override
      public int read() {
        return content.read();
      }

      @Override
      public int read(byte[] target, int offset, int length) {
        return content.read(target, offset, length);
      }

      @Override
      public boolean isFinished() {
        return content.available() == 0;
      }

      @Override
      public boolean isReady() {
        return true;
      }

      @Override
      public void setReadListener(ReadListener listener) {
        throw new IllegalStateException("a write is read synchronously");
      }
    };
  }

  @Override
  public BufferedReader getReader() throws IOException {
    String encoding = getCharacterEncoding();
    Charset charset = encoding == null ? StandardCharsets.UTF_8 : Charset.forName(encoding);
    return new BufferedReader(new InputStreamReader(getInputStream(), charset));
  }
}
