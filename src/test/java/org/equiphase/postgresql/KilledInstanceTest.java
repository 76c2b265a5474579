package org.equiphase.postgresql;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicInteger;
import org.equiphase.ApiClient;
import org.equiphase.EquiphaseApplication;
import org.equiphase.RunningService;
import org.equiphase.TestDatabase;
import org.equiphase.account.ApiTokens;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;

/** One of two instances is killed while technicians write through it. */
class KilledInstanceTest {

  private static final int TECHNICIANS = 6;
  private static final int READINGS_EACH = 20;
  private static final int KILLED_AFTER = 40;
  private static final int TRIES = 150;
  private static final long PAUSE_MS = 200;

  /**
   * Each sender repeats what was not answered, with the same key, at the other instance: every
   * reading is stored once, no retry fails, and the audit chain is whole.
   */
  @Test
  void noRetryFailsAndNothingIsStoredTwice(@TempDir Path folder) throws Exception {
    String database = TestDatabase.postgres();
    try (RunningService survivor =
        RunningService.startOn(database, "equiphase.demo-accounts=true")) {
      SmallShop shop = new SmallShop(survivor);
      shop.order(TECHNICIANS, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
      String token = survivor.bean(ApiTokens.class).add("technician", "killed", null).secret();
      int port = freePort();
      Process victim = start(database, port, folder);
      try {
        ApiClient first = ApiClient.bearer("http://localhost:" + port, token);
        awaitHealth(first, victim);
        AtomicInteger answered = new AtomicInteger();
        AtomicInteger repeated = new AtomicInteger();
        ExecutorService technicians = Executors.newFixedThreadPool(TECHNICIANS);
        List<CompletableFuture<Void>> work = new ArrayList<>();
        for (int i = 1; i <= TECHNICIANS; i++) {
          String serial = shop.serial(i);
          work.add(
              CompletableFuture.runAsync(
                  () -> {
                    for (int n = 0; n < READINGS_EACH; n++) {
                      send(
                          List.of(first, survivor.api(token)),
                          reading(shop, serial, 1003 + 0.1 * n),
                          repeated);
                      if (answered.incrementAndGet() == KILLED_AFTER) {
                        victim.destroyForcibly();
                      }
                    }
                  },
                  technicians));
        }
        work.forEach(CompletableFuture::join);
        technicians.shutdown();

        // It was really used, and really gone in the middle of it.
        assertThat(victim.waitFor()).isEqualTo(128 + 9);
        assertThat(repeated.get()).isPositive();
        assertThat(answered.get()).isEqualTo(TECHNICIANS * READINGS_EACH);
        for (int i = 1; i <= TECHNICIANS; i++) {
          JsonNode readings =
              ApiClient.json(survivor.api(token).get("/api/v1/readings?serial=" + shop.serial(i)));
          assertThat(readings).hasSize(READINGS_EACH);
        }
        ChainCheck check = survivor.bean(ChainChecker.class).check();
        assertThat(check.isIntact()).as(check.toString()).isTrue();
        assertThat(check.sealedRows()).isGreaterThanOrEqualTo(TECHNICIANS * READINGS_EACH);
      } finally {
        victim.destroyForcibly();
      }
    }
  }

  /** Sends to one instance after the other until there is an answer; an error is no answer. */
  private static void send(List<ApiClient> instances, String reading, AtomicInteger repeated) {
    String key = UUID.randomUUID().toString();
    for (int attempt = 0; attempt < TRIES; attempt++) {
      if (attempt > 0) {
        repeated.incrementAndGet();
      }
      try {
        HttpResponse<String> answer =
            instances.get(attempt % 2).write("POST", "/api/v1/readings", reading, key);
        if (answer.statusCode() != 503) {
          assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
          return;
        }
        Thread.sleep(PAUSE_MS);
      } catch (UncheckedIOException e) {
        // The instance is gone; on to the other.
      } catch (InterruptedException e) {
        throw new IllegalStateException(e);
      }
    }
    throw new AssertionError("no answer in " + TRIES + " tries");
  }

  private static String reading(SmallShop shop, String serial, double lengthMm) {
    return """
    {"serial": "%s", "benchId": %d, "temperatureC": 23, "spots":
      [{"frequencyHz": 2.8e9, "phaseDeg": %s, "insertionLossDb": 1.2}]}
    """
        .formatted(serial, shop.benchId, SmallShop.phaseDeg(lengthMm));
  }

  private static Process start(String database, int port, Path folder) throws IOException {
    return new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-XX:TieredStopAtLevel=1",
            "-cp",
            System.getProperty("java.class.path"),
            EquiphaseApplication.class.getName(),
            "--server.port=" + port,
            "--server.address=127.0.0.1",
            "--spring.datasource.url=" + database)
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("victim.log").toFile())
        .start();
  }

  private static void awaitHealth(ApiClient api, Process process) throws InterruptedException {
    while (true) {
      assertThat(process.isAlive()).isTrue();
      try {
        if (api.get("/actuator/health").statusCode() == 200) {
          return;
        }
      } catch (UncheckedIOException e) {
        // Not listening yet.
      }
      Thread.sleep(PAUSE_MS);
    }
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
