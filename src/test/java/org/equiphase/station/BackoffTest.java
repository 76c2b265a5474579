package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Random;
import org.junit.jupiter.api.Test;

class BackoffTest {

  @Test
  void waitsDoubleUpToTheLimitWithJitter() {
    Backoff backoff = new Backoff(Duration.ofSeconds(60), new Random(7));
    for (int round = 0; round < 50; round++) {
      for (int stepS : new int[] {1, 2, 4, 8, 16, 32, 60, 60, 60}) {
        assertThat(backoff.next())
            .isBetween(Duration.ofMillis(500L * stepS), Duration.ofSeconds(stepS));
      }
      backoff.reset();
    }
    assertThat(backoff.next())
        .isNotEqualTo(new Backoff(Duration.ofSeconds(60), new Random(8)).next());
  }

  @Test
  void whatAPersonMustMendIsTriedAtTheLimit() {
    Backoff backoff = new Backoff(Duration.ofSeconds(60), new Random(7));
    assertThat(backoff.longest()).isBetween(Duration.ofSeconds(30), Duration.ofSeconds(60));
    assertThat(backoff.next()).isGreaterThanOrEqualTo(Duration.ofSeconds(30));
  }

  @Test
  void aLimitBelowASecondHolds() {
    Backoff backoff = new Backoff(Duration.ofMillis(200), new Random(7));
    for (int i = 0; i < 10; i++) {
      assertThat(backoff.next()).isBetween(Duration.ofMillis(100), Duration.ofMillis(200));
    }
  }
}
