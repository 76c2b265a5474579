package org.equiphase.durability;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The disk gets full while benches log readings: what was acknowledged is there once there is room
 * again, and what was not is stored once when it is sent again.
 *
 * <p>A full disk is played by the shell's limit of a file's size, which needs no rights; the
 * service sees the same failed writes. With -Dequiphase.full.folder on a small file system of its
 * own it is that which gets full.
 */
class FullDiskIT {

  private static final int BENCHES = 4;
  private static final long ROOM_BYTES = 1 << 20;
  private static final Duration LONGEST_FILLING = Duration.ofMinutes(3);

  @Test
  void aFullFileSystem(@TempDir Path temporary) throws IOException {
    String small = System.getProperty("equiphase.full.folder");
    Path folder = small == null ? temporary : Path.of(small);
    Path ballast = folder.resolve("ballast");
    BuiltJar service = BuiltJar.start(folder);
    try (Benches benches = new Benches(service, BENCHES)) {
      service.stop();
      if (small == null) {
        long kilobytes = (Files.size(folder.resolve("data/equiphase.mv.db")) + ROOM_BYTES) >> 10;
        service = BuiltJar.start(folder, List.of("trap '' XFSZ", "ulimit -f " + kilobytes));
      } else {
        service = BuiltJar.start(folder);
        fill(ballast);
      }
      benches.logTo(service);
      awaitRefusals(benches, 2 * BENCHES);
      int status = awaitBadHealth(service);
      service.kill();
      benches.pause();

      assertThat(benches.refusals()).allMatch(refusal -> refusal.startsWith("50"));
      assertThat(status).as("health").isEqualTo(503);
      assertThat(benches.acknowledgedCount()).isPositive();

      Files.deleteIfExists(ballast);
      service = BuiltJar.start(folder);
      benches.logTo(service);
      benches.finish();
      System.out.printf(
          "full disk: %d readings acknowledged, %d refusals, %d of them stored all the same and not"
              + " again%n",
          benches.acknowledgedCount(), benches.refusals().size(), benches.repeatedCount());
      benches.assertNothingLostOrDoubled(service);
    } finally {
      service.kill();
    }
  }

  private static void awaitRefusals(Benches benches, int count) {
    long until = System.nanoTime() + LONGEST_FILLING.toNanos();
    while (benches.refusals().size() < count) {
      assertThat(System.nanoTime()).as("not full in time").isLessThan(until);
      BuiltJar.sleep(50);
    }
  }

  /** The health is asked of the database every few seconds only. */
  private static int awaitBadHealth(BuiltJar service) {
    int status = service.health("");
    for (int i = 0; i < 60 && status == 200; i++) {
      BuiltJar.sleep(500);
      status = service.health("");
    }
    return status;
  }

  private static void fill(Path ballast) throws IOException {
    byte[] block = new byte[1 << 16];
    try (OutputStream out = Files.newOutputStream(ballast)) {
      while (Files.getFileStore(ballast).getUsableSpace() > ROOM_BYTES) {
        out.write(block);
      }
    }
  }
}
