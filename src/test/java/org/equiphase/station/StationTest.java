package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.EquiphaseApplication;
import org.equiphase.RunningService;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A station sends 1,000 files while its service is killed five times and the station itself twice,
 * all at moments that a seeded generator picks: 1,000 readings, none twice.
 */
class StationTest {

  private static final int FILES = 1000;
  private static final int SERVICE_KILLS = 5;
  private static final List<Integer> STATION_KILLED_WITH = List.of(1, 3);
  private static final Duration PATIENCE = Duration.ofMinutes(3);
  private static final Random RANDOM = new Random(20261125);

  private final List<Process> processes = new ArrayList<>();
  private Path work;
  private Path folder;
  private int port;

  @BeforeEach
  void choose(@TempDir Path temporary) throws IOException {
    work = temporary;
    folder = Files.createDirectory(work.resolve("bench"));
    port = freePort();
  }

  @AfterEach
  void endProcesses() throws InterruptedException {
    for (Process process : processes) {
      kill(process);
    }
  }

  @Test
  void everyFileBecomesOneReading() throws Exception {
    Process service = startService();
    awaitHealth(service);
    StationShop shop = new StationShop(client("planner"), FILES);
    Path token = Files.writeString(work.resolve("token"), token());
    for (int i = 1; i <= FILES; i++) {
      double lengthMm = 990 + 0.02 * i;
      boolean csv = i % 5 == 0;
      Files.writeString(
          folder.resolve(shop.serial(i) + (csv ? ".csv" : ".s2p")),
          csv ? StationShop.csv(lengthMm) : StationShop.touchstone(lengthMm));
    }

    Process station = startStation(shop, token);
    for (int kill = 0; kill < SERVICE_KILLS; kill++) {
      int moment = FILES * kill / SERVICE_KILLS + 1 + RANDOM.nextInt(FILES / SERVICE_KILLS - 50);
      awaitSent(moment);
      Thread.sleep(RANDOM.nextInt(25));
      kill(service);
      if (STATION_KILLED_WITH.contains(kill)) {
        kill(station);
        station = startStation(shop, token);
      }
      service = startService();
    }
    assertThat(station.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS)).as(log()).isTrue();
    assertThat(station.exitValue()).as(log()).isZero();
    kill(service);

    assertThat(names(folder.resolve("sent"))).hasSize(FILES);
    assertThat(folder.resolve("refused")).doesNotExist();
    try (Connection database = DriverManager.getConnection(database(), "equiphase", "")) {
      assertThat(number(database, "select count(*) from reading")).isEqualTo(FILES);
      assertThat(number(database, "select count(distinct assembly_id) from reading"))
          .isEqualTo(FILES);
      assertThat(number(database, "select count(*) from sweep_file where state = 'RECORDED'"))
          .isEqualTo(FILES);
      assertThat(number(database, "select count(*) from sweep_file")).isEqualTo(FILES);
    }
  }

  private Process startService() throws IOException {
    return start(
        "service.log",
        "--server.port=" + port,
        "--server.address=127.0.0.1",
        "--spring.datasource.url=" + database(),
        "--spring.profiles.active=test",
        "--spring.main.lazy-initialization=true",
        "--spring.main.banner-mode=off",
        "--springdoc.api-docs.enabled=false",
        "--equiphase.demo-accounts=true");
  }

  private Process startStation(StationShop shop, Path token) throws IOException {
    return start(
        "station.log",
        "station",
        "--service=http://127.0.0.1:" + port,
        "--token-file=" + token,
        "--bench=" + shop.bench,
        "--folder=" + folder,
        "--temperature-c=23",
        "--settle-s=0.2",
        "--retry-max-s=0.5",
        "--once");
  }

  private Process start(String log, String... arguments) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1",
                "-XX:+UseSerialGC",
                "-XX:+UnlockDiagnosticVMOptions",
                "-XX:-BytecodeVerificationRemote",
                "-cp",
                System.getProperty("java.class.path"),
                EquiphaseApplication.class.getName()));
    command.addAll(List.of(arguments));
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.appendTo(work.resolve(log).toFile()))
            .start();
    processes.add(process);
    return process;
  }

  /** By SIGKILL, where the system has it. */
  private static void kill(Process process) throws InterruptedException {
    process.destroyForcibly().waitFor();
  }

  private void awaitHealth(Process service) throws Exception {
    long deadline = System.nanoTime() + PATIENCE.toNanos();
    while (System.nanoTime() < deadline && service.isAlive()) {
      try {
        HttpResponse<String> health =
            ApiClient.bearer(url(), "none").send(unsigned("/actuator/health"));
        if (health.statusCode() == 200) {
          return;
        }
      } catch (UncheckedIOException e) {
        // Not listening yet.
      }
      Thread.sleep(100);
    }
    throw new AssertionError("the service did not start: " + log());
  }

  private HttpRequest.Builder unsigned(String path) {
    return HttpRequest.newBuilder(URI.create(url() + path)).GET();
  }

  private void awaitSent(int files) throws Exception {
    long deadline = System.nanoTime() + PATIENCE.toNanos();
    while (names(folder.resolve("sent")).size() < files) {
      if (System.nanoTime() > deadline) {
        throw new AssertionError("no " + files + " files were sent in time: " + log());
      }
      Thread.sleep(5);
    }
  }

  private String token() {
    HttpResponse<String> made =
        client("technician").post("/api/v1/account/tokens", "{\"name\": \"station\"}");
    assertThat(made.statusCode()).as(made.body()).isEqualTo(201);
    return ApiClient.json(made).get("secret").asString();
  }

  private ApiClient client(String username) {
    return ApiClient.basic(url(), username, RunningService.PASSWORD);
  }

  private String url() {
    return "http://127.0.0.1:" + port;
  }

  private String database() {
    return "jdbc:h2:file:"
        + work.resolve("database")
        + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH;LOCK_TIMEOUT=10000"
        + ";WRITE_DELAY=0";
  }

  private String log() throws IOException {
    StringBuilder text = new StringBuilder();
    for (String name : List.of("station.log", "service.log")) {
      Path log = work.resolve(name);
      String all = Files.exists(log) ? Files.readString(log) : "";
      text.append(name).append(":\n").append(all.substring(Math.max(0, all.length() - 4000)));
    }
    return text.toString();
  }

  private static List<Path> names(Path directory) throws IOException {
    if (!Files.exists(directory)) {
      return List.of();
    }
    try (Stream<Path> files = Files.list(directory)) {
      return files.toList();
    }
  }

  private static long number(Connection database, String sql) throws SQLException {
    try (ResultSet row = database.createStatement().executeQuery(sql)) {
      row.next();
      return row.getLong(1);
    }
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
