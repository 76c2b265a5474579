package org.equiphase.durability;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The service is killed at random moments while benches log readings: nothing acknowledged is lost,
 * nothing is stored twice, and the audit log is whole.
 */
class KilledServiceIT {

  private static final int BENCHES = 4;
  private static final int LONGEST_LIFE_READINGS = 40;
  private static final int LONGEST_LIFE_MS = 100;

  /** A life ends at random in work, and not in time, so that a slow machine works as well. */
  @Test
  void killedAgainAndAgain(@TempDir Path folder) {
    int kills = Integer.getInteger("equiphase.kills", 5);
    long seed = Long.getLong("equiphase.kills.seed", System.nanoTime());
    Random random = new Random(seed);
    long startedNs = System.nanoTime();
    BuiltJar service = BuiltJar.start(folder);
    try (Benches benches = new Benches(service, BENCHES)) {
      for (int kill = 0; kill < kills; kill++) {
        benches.logTo(service);
        benches.awaitMore(random.nextInt(LONGEST_LIFE_READINGS));
        BuiltJar.sleep(random.nextInt(LONGEST_LIFE_MS));
        service.kill();
        benches.pause();
        service = service.again();
      }
      benches.logTo(service);
      benches.awaitMore(BENCHES);
      benches.finish();
      System.out.printf(
          "%d kills, seed %d: %d readings acknowledged, %d of them stored before a kill took the"
              + " answer, in %d s%n",
          kills,
          seed,
          benches.acknowledgedCount(),
          benches.repeatedCount(),
          (System.nanoTime() - startedNs) / 1_000_000_000);
      assertThat(benches.acknowledgedCount()).isGreaterThan(kills);
      benches.assertNothingLostOrDoubled(service);
    } finally {
      service.kill();
    }
  }
}
