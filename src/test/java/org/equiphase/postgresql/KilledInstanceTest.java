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
                      HttpResponse<String> answer =
                          PatientSender.send(
                              List.of(first, survivor.api(token)),
                              shop.reading(serial, 1003 + 0.1 * n),
                              UUID.randomUUID().toString(),
                              repeated);
                      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
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
