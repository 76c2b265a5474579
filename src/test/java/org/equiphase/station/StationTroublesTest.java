package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Collections;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What a station makes of answers, against a stand-in for the service that says what it is told.
 */
class StationTroublesTest {

  private static final String RECORDED =
      "201 {\"outcome\": \"RECORDED\", \"fileId\": 1, \"readingId\": 7, \"serial\": \"A1\", \"problem\": \"\"}";

  /** The stand-in reads the request and hangs up without an answer. */
  private static final String HANG_UP = "0 ";

  private final Deque<String> answers = new ArrayDeque<>();
  private final List<String> keys = new CopyOnWriteArrayList<>();
  private HttpServer server;
  private Path folder;
  private Path token;

  @BeforeEach
  void start(@TempDir Path work) throws IOException {
    folder = Files.createDirectory(work.resolve("bench"));
    token = Files.writeString(work.resolve("token"), "eqp_test\n");
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext(
        "/api/v1/catalog/benches",
        exchange -> answer(exchange, "200 [{\"id\": 3, \"name\": \"Bench 1\"}]"));
    server.createContext("/api/v1/files/recorded", this::takeFile);
    server.start();
  }

  @AfterEach
  void stop() {
    server.stop(0);
  }

  private synchronized void takeFile(HttpExchange exchange) throws IOException {
    exchange.getRequestBody().readAllBytes();
    keys.add(exchange.getRequestHeaders().getFirst("Idempotency-Key"));
    answer(exchange, answers.isEmpty() ? RECORDED : answers.poll());
  }

  private static void answer(HttpExchange exchange, String answer) throws IOException {
    try (exchange) {
      int status = Integer.parseInt(answer.substring(0, answer.indexOf(' ')));
      byte[] body = answer.substring(answer.indexOf(' ') + 1).getBytes(StandardCharsets.UTF_8);
      if (status > 0) {
        exchange.sendResponseHeaders(status, body.length == 0 ? -1 : body.length);
        exchange.getResponseBody().write(body);
      }
    }
  }

  /** None of these says that the file itself is bad, so it is sent until it is taken. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "503 {\"detail\": \"Busy.\"}                                | busy or starting",
        "502 <html>bad gateway</html>                               | busy or starting",
        "429 slow down                                              | busy or starting",
        "401 {\"detail\": \"Sign-in needed\"}                       | does not take the token",
        "403 {\"detail\": \"Not allowed\"}                          | take one of a technician or of QA",
        "404 {\"detail\": \"There is no bench 3.\"}                 | There is no bench 3.",
        "404 <html>nothing here</html>                              | leads to something else",
        "400 <html>bad request</html>                               | leads to something else",
        "200 <html>please sign in to the guest network</html>       | not one of the service",
        "302 moved                                                  | not one of the service",
        "409 {\"detail\": \"Someone else changed this.\"}           | Someone else changed this.",
        "500 {\"detail\": \"The log has it under 12.\"}             | The log has it under 12.",
        "400 {\"detail\": \"temperatureC: is missing\", \"errors\": [{\"field\": \"temperatureC\", \"message\": \"is missing\"}]} | temperatureC: is missing",
        "0                                                          | Can't send: ",
      })
  void trouble(String answer, String said) throws Exception {
    answers.addAll(Collections.nCopies(3, answer.equals("0") ? HANG_UP : answer));
    Files.writeString(folder.resolve("A1.s2p"), "x");
    try (RunningStation station = station(true)) {
      assertThat(station.join() || answer.startsWith("409") || answer.startsWith("500")).isTrue();
      assertThat(station.said).filteredOn(line -> line.contains(said)).hasSize(1);
    }
    if (!answers.isEmpty()) {
      answers.clear();
      try (RunningStation station = station(true)) {
        assertThat(station.join()).isTrue();
      }
    }
    assertThat(RunningStation.names(folder.resolve("sent"))).containsExactly("A1.s2p");
    assertThat(folder.resolve("refused")).doesNotExist();
    assertThat(keys).hasSizeGreaterThanOrEqualTo(2).containsOnly(keys.get(0));
  }

  /** What only one file meets with does not hold up the others. */
  @Test
  void othersGoOnWhileOneFileIsPutOff() throws Exception {
    answers.add("500 {\"detail\": \"The log has it under 12.\"}");
    Files.writeString(folder.resolve("A1.s2p"), "1");
    try (RunningStation station = station(false)) {
      station.awaitSaid("A1.s2p: to be tried again, The log has it under 12.");
      Files.writeString(folder.resolve("A2.s2p"), "2");
      station.awaitSaid("A2.s2p: recorded as reading 7 of A1");
      station.awaitSaid("A1.s2p: recorded as reading 7 of A1");
    }
    assertThat(RunningStation.names(folder)).isEmpty();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "422 {\"detail\": \"line 2, S21: is no number\"} | line 2, S21: is no number",
        "415 {\"detail\": \"No such type.\"}             | No such type.",
        "400 {\"detail\": \"file: is missing\", \"errors\": [{\"field\": \"file\", \"message\": \"is missing\"}]} | file: is missing",
        "413 <html>too large for the proxy</html>        | It is too large for the service.",
      })
  void refusals(String answer, String reason) throws Exception {
    answers.add(answer);
    answers.add(answer);
    Files.writeString(folder.resolve("A1.s2p"), "x");
    try (RunningStation station = station(true)) {
      assertThat(station.join()).isTrue();
    }
    Files.writeString(folder.resolve("A1.s2p"), "x");
    try (RunningStation station = station(true)) {
      assertThat(station.join()).isTrue();
    }
    Path refused = folder.resolve("refused");
    assertThat(RunningStation.names(refused))
        .containsExactly("A1 (2).s2p", "A1 (2).s2p.reason.txt", "A1.s2p", "A1.s2p.reason.txt");
    assertThat(refused.resolve("A1.s2p.reason.txt")).hasContent(reason);
    assertThat(Files.readString(folder.resolve(Journal.FILE_NAME))).contains("REFUSED\tA1.s2p");
  }

  /** The answer came, the journal has it, and the station was killed before it moved the file. */
  @Test
  void aFileThatTheJournalKnowsIsMovedAndNotSent() throws Exception {
    Path file = Files.writeString(folder.resolve("A1.s2p"), "x");
    Journal.open(folder)
        .add(
            Instant.EPOCH,
            OutgoingFile.read(file).hash(),
            Journal.Outcome.SENT,
            "A1.s2p",
            "recorded as reading 5 of A1");
    try (RunningStation station = station(true)) {
      assertThat(station.join()).isTrue();
      assertThat(station.said).contains("A1.s2p: sent before, recorded as reading 5 of A1");
    }
    assertThat(keys).isEmpty();
    assertThat(RunningStation.names(folder.resolve("sent"))).containsExactly("A1.s2p");
  }

  @Test
  void theNetworkIsLostAndComesBack() throws Exception {
    int port = server.getAddress().getPort();
    server.stop(0);
    Files.writeString(folder.resolve("A1.s2p"), "x");
    try (RunningStation station =
        new RunningStation("http://127.0.0.1:" + port, token, "bench 1", folder, null, true)) {
      station.awaitSaid("Can't send: no connection to");
      Thread.sleep(500);
      assertThat(station.said).filteredOn(line -> line.contains("Can't send")).hasSize(1);
      server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 0);
      server.createContext(
          "/api/v1/catalog/benches",
          exchange -> answer(exchange, "200 [{\"id\": 3, \"name\": \"Bench 1\"}]"));
      server.createContext("/api/v1/files/recorded", this::takeFile);
      server.start();
      assertThat(station.join()).isTrue();
      assertThat(station.said).contains("Sending again");
    }
  }

  @Test
  void aBenchThatIsNotThereIsSaidWithThoseThatAre() throws Exception {
    Files.writeString(folder.resolve("A1.s2p"), "x");
    try (RunningStation station =
        new RunningStation(url(), token, "Bench 9", folder, null, false)) {
      station.awaitSaid("there is no bench \"Bench 9\"; there are \"Bench 1\"");
    }
    assertThat(RunningStation.names(folder)).containsExactly("A1.s2p");
  }

  @Test
  void oneStationPerFolder() throws Exception {
    List<String> options =
        List.of(
            "--service=" + url(),
            "--token-file=" + token,
            "--bench=3",
            "--folder=" + folder,
            "--once");
    try (FileChannel other =
        FileChannel.open(
            folder.resolve(StationCommand.LOCK_NAME),
            StandardOpenOption.CREATE,
            StandardOpenOption.WRITE)) {
      other.lock();
      ByteArrayOutputStream said = new ByteArrayOutputStream();
      assertThat(StationCommand.run(options, new PrintStream(said))).isEqualTo(1);
      assertThat(said.toString(StandardCharsets.UTF_8)).contains("which another station watches");
    }
    assertThat(StationCommand.run(options, new PrintStream(OutputStream.nullOutputStream())))
        .isZero();
  }

  private RunningStation station(boolean once) throws IOException {
    return new RunningStation(url(), token, "Bench 1", folder, null, once);
  }

  private String url() {
    return "http://127.0.0.1:" + server.getAddress().getPort();
  }
}
