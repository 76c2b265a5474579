package org.equiphase.durability;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.Map;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A backup taken and a stop asked for while benches log readings, and the backup restored. */
class BackupIT {

  private static final int BENCHES = 4;

  /** As long as requests may take to end, in application.yml, and some more. */
  private static final Duration LONGEST_STOP = Duration.ofSeconds(40);

  @Test
  void copiedAndStoppedAtWork(@TempDir Path shop, @TempDir Path other) throws IOException {
    BuiltJar service = BuiltJar.start(shop);
    try (Benches benches = new Benches(service, BENCHES)) {
      benches.logTo(service);
      benches.awaitMore(20);
      Map<Integer, Long> before = benches.acknowledged();
      HttpResponse<byte[]> answer =
          service.basic(Role.ADMINISTRATOR).download("/api/v1/operation/backup");
      assertThat(answer.statusCode()).isEqualTo(200);
      Path backup = Files.write(other.resolve("backup.zip"), answer.body());
      benches.awaitMore(20);

      Duration stopped = service.stop();
      benches.pause();
      assertThat(stopped).isLessThan(LONGEST_STOP);
      assertThat(service.log()).contains("Graceful shutdown complete");

      service = service.again();
      benches.logTo(service);
      benches.finish();
      benches.assertNothingLostOrDoubled(service);
      service.kill();

      assertThat(before).isNotEmpty();
      assertThat(BuiltJar.run(other, 0, "restore", "backup.zip"))
          .contains("by administrator", "All is as it was written.");
      service = BuiltJar.start(other);
      benches.assertHolds(service, before);
    } finally {
      service.kill();
    }

    assertThat(BuiltJar.run(other, 2, "restore", "backup.zip")).contains("is left as it is");
    byte[] whole = Files.readAllBytes(other.resolve("backup.zip"));
    Files.write(other.resolve("cut.zip"), Arrays.copyOf(whole, whole.length / 2));
    assertThat(BuiltJar.run(other, 1, "restore", "cut.zip", "cut/equiphase"))
        .contains("could not be restored");
    assertThat(other.resolve("cut/equiphase.mv.db")).doesNotExist();
  }
}
