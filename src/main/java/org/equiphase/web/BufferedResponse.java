package org.equiphase.web;

import jakarta.servlet.ServletOutputStream;
import jakarta.servlet.WriteListener;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpServletResponseWrapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import org.jspecify.annotations.Nullable;

/** Holds an answer back until its transaction is committed. */
final class BufferedResponse extends HttpServletResponseWrapper {

  private final ByteArrayOutputStream body = new ByteArrayOutputStream();
  private @Nullable PrintWriter writer;
  private int errorStatus;
  private boolean finished;

  BufferedResponse(HttpServletResponse response) {
    super(response);
  }

  @Override
  public int getStatus() {
    return errorStatus != 0 ? errorStatus : super.getStatus();
  }

  byte[] body() {
    if (writer != null) {
      writer.flush();
    }
    return body.toByteArray();
  }

  void write(byte[] bytes) {
    body.writeBytes(bytes);
  }

  /** Lets the answer go. */
  void send() throws IOException {
    HttpServletResponse response = (HttpServletResponse) getResponse();
    if (errorStatus != 0) {
      response.sendError(errorStatus);
      return;
    }
    byte[] bytes = body();
    response.setContentLength(bytes.length);
    response.getOutputStream().write(bytes);
  }

  @Override
  public void sendError(int status) {
    resetBuffer();
    errorStatus = status;
    finished = true;
  }

  @Override
  public void sendError(int status, @Nullable String message) {
    sendError(status);
  }

  @Override
  public void sendRedirect(String location) {
    sendRedirect(location, SC_FOUND, true);
  }

  @Override
  public void sendRedirect(String location, int status, boolean clearBuffer) {
    if (clearBuffer) {
      resetBuffer();
    }
    setStatus(status);
    setHeader("Location", location);
    finished = true;
  }

  @Override
  public ServletOutputStream getOutputStream() {
    return new ServletOutputStream() {
      @Override
      public void write(int b) {
        body.write(b);
      }

      @Override
      public void write(byte[] bytes, int offset, int length) {
        body.write(bytes, offset, length);
      }

      @Override
      public boolean isReady() {
        return true;
      }

      @Override
      public void setWriteListener(WriteListener listener) {
        throw new IllegalStateException("a write is answered synchronously");
      }
    };
  }

  @Override
  public PrintWriter getWriter() {
    if (writer == null) {
      writer =
          new PrintWriter(new OutputStreamWriter(body, Charset.forName(getCharacterEncoding())));
    }
    return writer;
  }

  @Override
  public void flushBuffer() {}

  @Override
  public boolean isCommitted() {
    return finished;
  }

  @Override
  public void resetBuffer() {
    body();
    body.reset();
  }

  @Override
  public void reset() {
    super.reset();
    resetBuffer();
    errorStatus = 0;
    finished = false;
  }

  @Override
  public void setContentLength(int length) {}

  @Override
  public void setContentLengthLong(long length) {}
}
