package org.equiphase.durability;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;

/** The built jar as a process of its own, on a database file in a folder. */
final class BuiltJar {

  private static final Duration LONGEST_START = Duration.ofMinutes(10);
  private static final HttpClient HTTP = HttpClient.newHttpClient();

  private final Path folder;
  private final List<String> before;
  private final Process process;
  private final int port;

  private BuiltJar(Path folder, List<String> before, Process process, int port) {
    this.folder = folder;
    this.before = before;
    this.process = process;
    this.port = port;
  }

  /** Starts the service in a folder and returns once it is ready. */
  static BuiltJar start(Path folder) {
    return start(folder, List.of());
  }

  /**
   * The same from a shell.
   *
   * @param before shell commands that come first, e.g. a limit
   */
  static BuiltJar start(Path folder, List<String> before) {
    int port = freePort();
    BuiltJar service =
        new BuiltJar(
            folder,
            before,
            run(
                folder,
                before,
                List.of(
                    "--server.port=" + port,
                    "--server.address=127.0.0.1",
                    "--equiphase.demo-accounts=true",
                    "--spring.main.banner-mode=off")),
            port);
    service.awaitReady();
    return service;
  }

  /** Runs the jar with other arguments, to its end. */
  static String run(Path folder, int status, String... arguments) {
    try {
      Process process = run(folder, List.of(), List.of(arguments));
      if (!process.waitFor(LONGEST_START.toSeconds(), TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
      String out = Files.readString(log(folder));
      if (process.waitFor() != status) {
        throw new AssertionError("ended with " + process.exitValue() + ":\n" + out);
      }
      return out;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  private static Process run(Path folder, List<String> before, List<String> arguments) {
    List<String> java = new ArrayList<>();
    java.add("exec " + Path.of(System.getProperty("java.home"), "bin", "java"));
    // What makes short lives short: none of it touches how data are written.
    java.addAll(List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xmx512m", "-jar"));
    java.add(jar().toString());
    java.addAll(arguments);
    List<String> script = new ArrayList<>(before);
    script.add(String.join(" ", java));
    try {
      return new ProcessBuilder("bash", "-c", String.join("\n", script))
          .directory(folder.toFile())
          .redirectErrorStream(true)
          .redirectOutput(log(folder).toFile())
          .start();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Path jar() {
    Path jar = Path.of(System.getProperty("equiphase.jar", "target/equiphase.jar"));
    if (!Files.exists(jar)) {
      throw new IllegalStateException(jar + " is not there: mvn verify builds and names it");
    }
    return jar.toAbsolutePath();
  }

  private static Path log(Path folder) {
    return folder.resolve("service.log");
  }

  private static int freePort() {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void awaitReady() {
    long until = System.nanoTime() + LONGEST_START.toNanos();
    while (health("/readiness") != 200) {
      if (!process.isAlive() || System.nanoTime() > until) {
        process.destroyForcibly();
        throw new AssertionError("the service did not start:\n" + log());
      }
      sleep(50);
    }
  }

  /** The status of a health address, 0 where nobody answers. */
  int health(String group) {
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(url() + "/actuator/health" + group))
            .timeout(Duration.ofSeconds(10))
            .build();
    try {
      return HTTP.send(request, BodyHandlers.discarding()).statusCode();
    } catch (IOException e) {
      return 0;
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  String url() {
    return "http://127.0.0.1:" + port;
  }

  /** The API, signed in by password as the demo account with this role. */
  ApiClient basic(Role role) {
    return ApiClient.basic(url(), RunningService.username(role), RunningService.PASSWORD);
  }

  /** As no process can refuse: SIGKILL. */
  void kill() {
    process.destroyForcibly();
    awaitEnd();
  }

  /** As systemd and people do: SIGTERM. Returns how long it took. */
  Duration stop() {
    long startedNs = System.nanoTime();
    process.destroy();
    awaitEnd();
    return Duration.ofNanos(System.nanoTime() - startedNs);
  }

  private void awaitEnd() {
    try {
      if (!process.waitFor(1, TimeUnit.MINUTES)) {
        process.destroyForcibly();
        throw new AssertionError("the service did not end:\n" + log());
      }
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Another process on the same database, once this one has ended. */
  BuiltJar again() {
    return start(folder, before);
  }

  String log() {
    try {
      return Files.readString(log(folder));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static void sleep(long ms) {
    try {
      Thread.sleep(ms);
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }
}
