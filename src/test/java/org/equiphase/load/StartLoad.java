package org.equiphase.load;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;

/**
 * How long the service takes to start, until its health is good, and how much memory it then has,
 * against a Spring Boot application with nothing of its own and the same libraries. Both start on
 * an empty H2 database in memory, in turn, from the same class path; then the built jar as it is,
 * taken apart, and with an archive of its classes.
 *
 * <p>Argument: how often each, by default 10. Linux only, since memory is read from /proc.
 */
public final class StartLoad {

  private static final int PORT = 18179;
  private static final HttpClient HTTP = HttpClient.newHttpClient();
  private static final String JAVA =
      Path.of(System.getProperty("java.home"), "bin", "java").toString();

  private StartLoad() {}

  private record Start(double seconds, long residentMb) {}

  public static void main(String[] arguments) throws Exception {
    int times = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 10;
    Path folder = Files.createTempDirectory("equiphase-start");
    Map<String, List<String>> ways = ways(folder);
    Map<String, List<Start>> starts = new LinkedHashMap<>();
    for (int i = 0; i < times; i++) {
      for (Map.Entry<String, List<String>> way : ways.entrySet()) {
        starts
            .computeIfAbsent(way.getKey(), key -> new ArrayList<>())
            .add(start(folder, way.getValue()));
      }
    }
    System.out.println("| what | start, s: least / median / most | resident, MB: median |");
    System.out.println("| --- | --- | --- |");
    starts.forEach(
        (way, all) -> {
          double[] seconds = all.stream().mapToDouble(Start::seconds).sorted().toArray();
          long[] megabytes = all.stream().mapToLong(Start::residentMb).sorted().toArray();
          System.out.printf(
              Locale.ROOT,
              "| %s | %.1f / %.1f / %.1f | %d |%n",
              way,
              seconds[0],
              seconds[seconds.length / 2],
              seconds[seconds.length - 1],
              megabytes[megabytes.length / 2]);
        });
    System.exit(0);
  }

  private static Map<String, List<String>> ways(Path folder) throws Exception {
    String classPath = System.getProperty("java.class.path");
    String jar = Path.of("target", "equiphase.jar").toAbsolutePath().toString();
    run(folder, JAVA, "-Djarmode=tools", "-jar", jar, "extract", "--destination", "apart");
    String apart = folder.resolve("apart/equiphase.jar").toString();
    String archive = folder.resolve("classes.jsa").toString();
    run(
        folder,
        JAVA,
        "-XX:ArchiveClassesAtExit=" + archive,
        "-Dspring.context.exit=onRefresh",
        "-jar",
        apart,
        "--spring.datasource.url=jdbc:h2:mem:archive;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE");
    Map<String, List<String>> ways = new LinkedHashMap<>();
    ways.put("bare application", List.of("-cp", classPath, BareApplication.class.getName()));
    ways.put("Equiphase", List.of("-cp", classPath, "org.equiphase.EquiphaseApplication"));
    ways.put("Equiphase, the jar", List.of("-jar", jar));
    ways.put("Equiphase, taken apart", List.of("-jar", apart));
    ways.put(
        "Equiphase, taken apart, with archive",
        List.of("-XX:SharedArchiveFile=" + archive, "-jar", apart));
    return ways;
  }

  private static void run(Path folder, String... command) throws Exception {
    Process process = launch(folder, List.of(command));
    if (!process.waitFor(5, TimeUnit.MINUTES) || process.exitValue() != 0) {
      throw new IllegalStateException(
          Arrays.toString(command) + "\n" + Files.readString(folder.resolve("log")));
    }
  }

  /** What it prints goes to the file log in the folder. */
  private static Process launch(Path folder, List<String> command) throws IOException {
    return new ProcessBuilder(command)
        .directory(folder.toFile())
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("log").toFile())
        .start();
  }

  private static Start start(Path folder, List<String> what) throws Exception {
    List<String> command = new ArrayList<>(List.of(JAVA, "-Xmx512m"));
    command.addAll(what);
    command.addAll(
        List.of(
            "--server.port=" + PORT,
            "--server.address=127.0.0.1",
            "--spring.datasource.url=jdbc:h2:mem:start;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE"
                + ";DEFAULT_NULL_ORDERING=HIGH;DB_CLOSE_DELAY=-1"));
    long startedNs = System.nanoTime();
    Process process = launch(folder, command);
    while (!isUp()) {
      if (!process.isAlive() || System.nanoTime() - startedNs > 300_000_000_000L) {
        process.destroyForcibly();
        throw new IllegalStateException(command + "\n" + Files.readString(folder.resolve("log")));
      }
      Thread.sleep(20);
    }
    double seconds = (System.nanoTime() - startedNs) / 1e9;
    Thread.sleep(3000);
    long residentMb =
        Files.readAllLines(Path.of("/proc/" + process.pid() + "/status")).stream()
            .filter(line -> line.startsWith("VmRSS:"))
            .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")) >> 10)
            .findFirst()
            .orElseThrow();
    process.destroy();
    process.waitFor();
    return new Start(seconds, residentMb);
  }

  private static boolean isUp() throws InterruptedException {
    try {
      return HTTP.send(
                  HttpRequest.newBuilder(
                          URI.create("http://127.0.0.1:" + PORT + "/actuator/health"))
                      .build(),
                  BodyHandlers.discarding())
              .statusCode()
          == 200;
    } catch (IOException e) {
      return false;
    }
  }
}
