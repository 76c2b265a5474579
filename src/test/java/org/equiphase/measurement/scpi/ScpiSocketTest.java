package org.equiphase.measurement.scpi;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HexFormat;
import org.equiphase.demo.SimulatedAnalyzer;
import org.equiphase.measurement.scpi.ScpiException.ConnectionCut;
import org.equiphase.measurement.scpi.ScpiException.NoAnswer;
import org.equiphase.measurement.scpi.ScpiException.NotConnected;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Answers as they may come over the wire. The forms of numbers and blocks are those of IEEE
 * 488.2-1992, 8.7.2 to 8.7.4, 8.7.9 and 8.7.10, from memory; the floats in hexadecimal are those of
 * IEEE 754: 1 is 3f800000 or 3ff0000000000000, −2 is c0000000 or c000000000000000.
 */
@Timeout(5)
class ScpiSocketTest {

  private static final Duration SOON = Duration.ofMillis(300);

  private SimulatedAnalyzer analyzer;

  @BeforeEach
  void open() throws IOException {
    analyzer = SimulatedAnalyzer.start(0);
  }

  @AfterEach
  void close() {
    analyzer.close();
  }

  @Test
  void readsNumbersInAllThreeForms() throws IOException {
    assertThat(numbers("1,-2,+3\n".getBytes(StandardCharsets.US_ASCII), 3))
        .containsExactly(1, -2, 3);
    assertThat(numbers("1.5, -.25 ,+3.\r\n".getBytes(StandardCharsets.US_ASCII), 3))
        .containsExactly(1.5, -0.25, 3);
    assertThat(numbers("1.5E+09,-2.5e-3\n".getBytes(StandardCharsets.US_ASCII), 2))
        .containsExactly(1.5e9, -2.5e-3);
  }

  @Test
  void readsABlockOfDefiniteLength() throws IOException {
    assertThat(numbers(block("#18", "3f800000c0000000"), 2)).containsExactly(1, -2);
    assertThat(numbers(block("#216", "3ff0000000000000c000000000000000"), 2))
        .containsExactly(1, -2);
    assertThat(numbers(block("#3008", "3f800000c0000000"), 2)).containsExactly(1, -2);
  }

  @Test
  void readsABlockWithTheLastByteFirst() throws IOException {
    assertThat(answer(block("#18", "0000803f000000c0"), 2).numbers(2, ByteOrder.LITTLE_ENDIAN))
        .containsExactly(1, -2);
  }

  /** 0a0a0a0a is a float too: a newline inside a block is data. */
  @Test
  void aNewlineInsideABlockEndsNothing() throws IOException {
    double odd = Float.intBitsToFloat(0x0a0a0a0a);
    assertThat(numbers(block("#18", "0a0a0a0a3f800000"), 2)).containsExactly(odd, 1);
    assertThat(numbers(block("#0", "0a0a0a0a3f800000"), 2)).containsExactly(odd, 1);
    assertThat(numbers(block("#0", "0a0a0a0a0a0a0a0a3ff0000000000000"), 2))
        .containsExactly(Double.longBitsToDouble(0x0a0a0a0a0a0a0a0aL), 1);
  }

  @Test
  void readsABlockOfIndefiniteLength() throws IOException {
    assertThat(numbers(block("#0", "3f800000c0000000"), 2)).containsExactly(1, -2);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"#A12\n", "#1x2\n", "1,2,3\n", "1\n", "\n", "1,NaN\n", "1,2d\n", "1,\n", "1;2\n"})
  void refusesWhatAreNotTwoNumbers(String answer) {
    assertThatThrownBy(() -> numbers(answer.getBytes(StandardCharsets.US_ASCII), 2))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("*IDN?");
  }

  @Test
  void refusesABlockOfAnotherLengthBeforeItIsRead() {
    assertThatThrownBy(() -> numbers(block("#9900000000", ""), 2))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("900000000 bytes; 2 numbers take 8 or 16");
    assertThatThrownBy(() -> numbers(block("#18", "3f800000c000000000"), 2))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("goes on after the 8 bytes");
    assertThatThrownBy(() -> numbers(block("#0", "00".repeat(20)), 2))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("goes on after the 16 bytes");
  }

  @Test
  void anAnswerWithoutEndIsGivenUp() {
    byte[] endless = "1".repeat(100_000).getBytes(StandardCharsets.US_ASCII);
    assertThatThrownBy(() -> numbers(endless, 2))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("longer than 384 characters");
    assertThatThrownBy(() -> text(endless))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("longer than 4096 characters");
  }

  @Test
  void silenceEndsInTime() {
    long began = System.nanoTime();
    assertThatThrownBy(() -> text(new byte[0]))
        .isInstanceOf(NoAnswer.class)
        .hasMessageContaining("did not answer “*IDN?” in time");
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isBetween(SOON, Duration.ofSeconds(2));
  }

  /** A byte now and then must not stretch the time for the whole answer. */
  @Test
  void drippingEndsInTimeToo() throws IOException {
    start(
        (message, answer, socket) -> {
          for (byte each : answer) {
            socket.getOutputStream().write(each);
            Thread.sleep(60);
          }
        });
    long began = System.nanoTime();
    assertThatThrownBy(() -> ask("*IDN?"))
        .isInstanceOf(NoAnswer.class)
        .hasMessageContaining("the rest did not come in time");
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(2));
  }

  @Test
  void aCutIsNoticedAtOnce() throws IOException {
    start(
        (message, answer, socket) -> {
          socket.getOutputStream().write(answer, 0, 10);
          socket.close();
        });
    assertThatThrownBy(() -> ask("*IDN?"))
        .isInstanceOf(ConnectionCut.class)
        .hasMessageContaining("after 10 bytes of the answer to “*IDN?”");
  }

  @Test
  void aResetIsACutToo() throws IOException {
    start(
        (message, answer, socket) -> {
          socket.setSoLinger(true, 0);
          socket.close();
        });
    assertThatThrownBy(() -> ask("*IDN?")).isInstanceOf(ConnectionCut.class);
  }

  @Test
  void singleBytesMakeOneAnswer() throws IOException {
    start(
        (message, answer, socket) -> {
          for (byte each : answer) {
            socket.getOutputStream().write(each);
          }
        });
    assertThat(ask("*IDN?")).isEqualTo("Invented Shop,Simulated analyzer,0001,1.0");
  }

  /** The second answer must not pass as the answer to the next question. */
  @Test
  void twoAnswersInOnePacketAreOneTooMany() throws IOException {
    start("2.3E9\n2.4E9\n".getBytes(StandardCharsets.US_ASCII));
    try (ScpiSocket socket = connect()) {
      assertThat(socket.ask("*IDN?")).isEqualTo("2.3E9");
      assertThatThrownBy(() -> socket.ask("*OPC?"))
          .isInstanceOf(UnusableAnswer.class)
          .hasMessageContaining("after the answer to “*IDN?” came “2.4E9”");
    }
  }

  @Test
  void nobodyListens() throws IOException {
    int port;
    try (ServerSocket closed = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = closed.getLocalPort();
    }
    assertThatThrownBy(() -> ScpiSocket.connect("127.0.0.1", port, SOON, SOON))
        .isInstanceOf(NotConnected.class)
        .hasMessageContaining("no connection to the instrument at 127.0.0.1:" + port);
  }

  /** RFC 2606 keeps the top-level domain "invalid" from ever being a name. */
  @Test
  void theNameIsNotKnown() {
    assertThatThrownBy(
            () -> ScpiSocket.connect("analyzer.invalid", 5025, Duration.ofSeconds(3), SOON))
        .isInstanceOf(NotConnected.class)
        .hasMessageContaining("analyzer.invalid");
  }

  private static byte[] block(String head, String hex) {
    ByteArrayOutputStream block = new ByteArrayOutputStream();
    block.writeBytes(head.getBytes(StandardCharsets.US_ASCII));
    block.writeBytes(HexFormat.of().parseHex(hex));
    block.write('\n');
    return block.toByteArray();
  }

  private double[] numbers(byte[] answer, int count) throws IOException {
    return answer(answer, count).numbers(count, ByteOrder.BIG_ENDIAN);
  }

  private NumberAnswer answer(byte[] answer, int count) throws IOException {
    start(answer);
    try (ScpiSocket socket = connect()) {
      return socket.askNumbers("*IDN?", count, SOON);
    }
  }

  private String text(byte[] answer) throws IOException {
    start(answer);
    return ask("*IDN?");
  }

  private String ask(String query) {
    try (ScpiSocket socket = connect()) {
      return socket.ask(query);
    }
  }

  /** An instrument that says this whatever it is asked. */
  private void start(byte[] answer) throws IOException {
    start((message, usual, socket) -> socket.getOutputStream().write(answer));
  }

  private void start(SimulatedAnalyzer.Delivery delivery) throws IOException {
    analyzer.close();
    analyzer = SimulatedAnalyzer.start(0, delivery);
  }

  private ScpiSocket connect() {
    return ScpiSocket.connect("127.0.0.1", analyzer.port(), SOON, SOON);
  }
}
