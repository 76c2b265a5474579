package org.equiphase.measurement.scpi;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.equiphase.measurement.scpi.ScpiException.ConnectionCut;
import org.equiphase.measurement.scpi.ScpiException.NoAnswer;
import org.equiphase.measurement.scpi.ScpiException.NotConnected;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;
import org.jspecify.annotations.Nullable;

/**
 * One connection to an instrument: program messages out, response messages in, each ended by a
 * newline. Every wait ends; an answer is bounded in size; closing the socket is the device clear
 * that a raw socket has.
 */
public final class ScpiSocket implements AutoCloseable {

  private static final int LONGEST_TEXT = 4096;
  private static final int SHOWN = 60;

  /** How long an indefinite block must have been quiet before its newline counts as its end. */
  private static final Duration QUIET = Duration.ofMillis(200);

  private final Socket socket;
  private final InputStream in;
  private final String name;
  private final Duration answerTimeout;
  private final byte[] buffer = new byte[8192];
  private int next;
  private int end;
  private String asked = "";
  private int received;
  private long deadline;

  private ScpiSocket(Socket socket, String name, Duration answerTimeout) throws IOException {
    this.socket = socket;
    this.in = socket.getInputStream();
    this.name = name;
    this.answerTimeout = answerTimeout;
  }

  /**
   * Connects.
   *
   * @param connectTimeout for the name to be found and the instrument to accept, each
   * @param answerTimeout for a whole answer, from the question on
   * @throws NotConnected if there is no connection within that time
   */
  public static ScpiSocket connect(
      String host, int port, Duration connectTimeout, Duration answerTimeout) {
    String name = host + ":" + port;
    Socket socket = new Socket();
    try {
      socket.setTcpNoDelay(true);
      socket.connect(resolve(host, port, connectTimeout), millis(connectTimeout));
      return new ScpiSocket(socket, name, answerTimeout);
    } catch (IOException e) {
      closeQuietly(socket);
      throw new NotConnected("notConnected", name, String.valueOf(e.getMessage()));
    } catch (RuntimeException e) {
      closeQuietly(socket);
      throw e;
    }
  }

  /** Looking a name up has no timeout of its own. */
  private static InetSocketAddress resolve(String host, int port, Duration timeout)
      throws IOException {
    FutureTask<InetSocketAddress> lookup =
        new FutureTask<>(() -> new InetSocketAddress(host, port));
    Thread thread = new Thread(lookup, "instrument-name");
    thread.setDaemon(true);
    thread.start();
    InetSocketAddress address;
    try {
      address = lookup.get(timeout.toMillis(), TimeUnit.MILLISECONDS);
    } catch (TimeoutException e) {
      throw new NotConnected("nameTooSlow", host);
    } catch (ExecutionException e) {
      throw new IOException(e.getCause());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted");
    }
    if (address.isUnresolved()) {
      throw new NotConnected("nameUnknown", host);
    }
    return address;
  }

  /**
   * Sends a program message that asks nothing, or whose answer is read next.
   *
   * @throws UnusableAnswer if the instrument has said more than it was asked before
   */
  public void send(String message) {
    requireNothingUnread();
    asked = message;
    received = 0;
    try {
      write(message);
    } catch (IOException e) {
      throw cut(e);
    }
  }

  /** Sends a last message without looking at what came in, and without minding a failure. */
  public void sendLast(String message) {
    try {
      write(message);
    } catch (IOException ignored) {
      // The connection is closed next in any case.
    }
  }

  private void write(String message) throws IOException {
    socket.getOutputStream().write((message + "\n").getBytes(StandardCharsets.US_ASCII));
  }

  /** Asks for a line of text, within the usual time. */
  public String ask(String query) {
    return ask(query, answerTimeout);
  }

  /**
   * Asks for a line of text.
   *
   * @throws NoAnswer if the whole line has not come in time
   * @throws ConnectionCut if the connection ends before
   * @throws UnusableAnswer if the line is longer than 4096 characters
   */
  public String ask(String query, Duration timeout) {
    begin(query, timeout);
    return line(LONGEST_TEXT).strip();
  }

  /**
   * Asks for numbers, as a list in ASCII or as a block of IEEE 488.2.
   *
   * @param count how many numbers there must be; bounds the answer
   * @throws UnusableAnswer if the answer's form shows that it holds another number of them
   */
  public NumberAnswer askNumbers(String query, int count, Duration timeout) {
    begin(query, timeout);
    int first = read();
    if (first != '#') {
      next--;
      received--;
      return NumberAnswer.ofText(query, line(64 * count + 256));
    }
    int digits = read() - '0';
    if (digits < 0 || digits > 9) {
      throw new UnusableAnswer("noBlockLength", query);
    }
    return NumberAnswer.ofBlock(
        query, digits == 0 ? indefinite(query, count) : definite(query, digits, count));
  }

  private byte[] definite(String query, int digits, int count) {
    long length = 0;
    for (int i = 0; i < digits; i++) {
      int digit = read() - '0';
      if (digit < 0 || digit > 9) {
        throw new UnusableAnswer("noBlockLength", query);
      }
      length = 10 * length + digit;
    }
    if (length != 4L * count && length != 8L * count) {
      throw new UnusableAnswer("blockLength", query, length, count, 4L * count, 8L * count);
    }
    byte[] block = new byte[(int) length];
    for (int i = 0; i < block.length; i++) {
      block[i] = (byte) read();
    }
    int last = read();
    if (last == '\r') {
      last = read();
    }
    if (last != '\n') {
      throw new UnusableAnswer("blockGoesOn", query, length);
    }
    return block;
  }

  /**
   * A block without length ends with a newline and the END that a socket can't show; so it ends
   * where a newline stands at a length that fits and nothing follows for a moment.
   */
  private byte[] indefinite(String query, int count) {
    ByteArrayOutputStream block = new ByteArrayOutputStream();
    while (true) {
      int value = read();
      int length = block.size();
      if (value == '\n' && (length == 4 * count || length == 8 * count) && isQuiet()) {
        return block.toByteArray();
      }
      if (length > 8 * count) {
        throw new UnusableAnswer("blockGoesOn", query, 8 * count);
      }
      block.write(value);
    }
  }

  private void begin(String query, Duration timeout) {
    send(query);
    deadline = System.nanoTime() + timeout.toNanos();
  }

  private String line(int longest) {
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    for (int value = read(); value != '\n'; value = read()) {
      if (line.size() == longest) {
        throw new UnusableAnswer(
            "tooLong", asked, longest, shown(line.toString(StandardCharsets.US_ASCII)));
      }
      line.write(value);
    }
    return line.toString(StandardCharsets.US_ASCII);
  }

  private int read() {
    if (next == end) {
      fill(Duration.ofNanos(deadline - System.nanoTime()));
    }
    received++;
    return buffer[next++] & 0xff;
  }

  private void fill(Duration timeout) {
    if (timeout.isNegative() || timeout.isZero()) {
      throw late();
    }
    try {
      socket.setSoTimeout(millis(timeout));
      int count = in.read(buffer);
      if (count < 0) {
        throw cut(null);
      }
      next = 0;
      end = count;
    } catch (SocketTimeoutException e) {
      throw late();
    } catch (IOException e) {
      throw cut(e);
    }
  }

  private boolean isQuiet() {
    if (next < end) {
      return false;
    }
    try {
      fill(QUIET);
      return false;
    } catch (NoAnswer e) {
      return true;
    }
  }

  private void requireNothingUnread() {
    try {
      if (next == end && in.available() > 0) {
        fill(answerTimeout);
      }
    } catch (IOException e) {
      throw cut(e);
    }
    if (next < end) {
      String more = new String(buffer, next, end - next, StandardCharsets.US_ASCII);
      throw new UnusableAnswer("notAsked", name, asked, shown(more));
    }
  }

  private NoAnswer late() {
    return received == 0
        ? new NoAnswer(false, "noAnswer", name, asked)
        : new NoAnswer(true, "halfAnswer", name, asked, received);
  }

  private ConnectionCut cut(@Nullable IOException cause) {
    ConnectionCut cut =
        received == 0
            ? new ConnectionCut("cut", name, asked)
            : new ConnectionCut("cutInAnswer", name, asked, received);
    if (cause != null) {
      cut.initCause(cause);
    }
    return cut;
  }

  static String shown(String text) {
    String plain = text.strip().replaceAll("[^ -~]", "?");
    return plain.length() <= SHOWN ? plain : plain.substring(0, SHOWN) + "…";
  }

  private static int millis(Duration duration) {
    return (int) Math.max(1, Math.min(Integer.MAX_VALUE, duration.toMillis()));
  }

  @Override
  public void close() {
    closeQuietly(socket);
  }

  private static void closeQuietly(Socket socket) {
    try {
      socket.close();
    } catch (IOException ignored) {
      // Nothing is left to be done with it.
    }
  }
}
