package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class IntakeTest {

  private static final Instant START = Instant.parse("2026-11-25T10:00:00Z");

  private final HandClock clock = new HandClock();
  private Path folder;
  private Intake intake;

  @BeforeEach
  void watch(@TempDir Path temporary) {
    folder = temporary;
    intake = new Intake(folder, Duration.ofSeconds(2), clock);
  }

  @Test
  void aFileIsCompleteWhenItHasStayedTheSame() throws IOException {
    Path file = write("A1.s2p", "12", 0);
    assertThat(intake.complete()).isEmpty();
    assertThat(intake.present()).containsExactly(file);
    clock.wait(1900);
    assertThat(intake.complete()).isEmpty();
    clock.wait(100);
    assertThat(intake.complete()).containsExactly(file);
  }

  @Test
  void aFileThatGrowsOrIsWrittenAgainIsNot() throws IOException {
    write("A1.s2p", "12", 0);
    intake.complete();
    clock.wait(2000);
    write("A1.s2p", "123", 0);
    assertThat(intake.complete()).as("longer").isEmpty();
    clock.wait(1000);
    Path file = write("A1.s2p", "321", 7);
    assertThat(intake.complete()).as("later").isEmpty();
    clock.wait(1999);
    assertThat(intake.complete()).isEmpty();
    clock.wait(1);
    assertThat(intake.complete()).containsExactly(file);
  }

  @Test
  void anEmptyFileIsGivenTime() throws IOException {
    Path file = write("A1.s2p", "", 0);
    intake.complete();
    clock.wait(59_000);
    assertThat(intake.complete()).isEmpty();
    clock.wait(1000);
    assertThat(intake.complete()).containsExactly(file);
  }

  @Test
  void aLockedFileIsInUse() throws IOException {
    Path file = write("A1.s2p", "12", 0);
    intake.complete();
    clock.wait(2000);
    try (FileChannel writer = FileChannel.open(file, StandardOpenOption.WRITE)) {
      writer.lock();
      assertThat(intake.complete()).isEmpty();
    }
    assertThat(intake.complete()).containsExactly(file);
  }

  @Test
  void theOldestComesFirstAndEqualOnesByName() throws IOException {
    Path last = write("A0.csv", "1", 30);
    Path second = write("B.s1p", "1", 20);
    Path third = write("C.TS", "1", 20);
    Path first = write("Z.S2P", "1", 10);
    intake.complete();
    clock.wait(2000);
    assertThat(intake.complete()).containsExactly(first, second, third, last);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        ".A1.s2p",
        "~A1.csv",
        "A1.s2p.part",
        "A1.csv.tmp",
        "A1.s3p",
        "A1.txt",
        "s2p",
        ".equiphase-station.log"
      })
  void otherFilesAreLeftAlone(String name) throws IOException {
    write(name, "1", 0);
    Files.createDirectory(folder.resolve("folder.csv"));
    intake.complete();
    clock.wait(60_000);
    assertThat(intake.complete()).isEmpty();
    assertThat(intake.present()).isEmpty();
  }

  private Path write(String name, String text, int secondsOld) throws IOException {
    Path file = Files.writeString(folder.resolve(name), text);
    Files.setLastModifiedTime(file, FileTime.from(START.plusSeconds(secondsOld)));
    return file;
  }

  /** A clock that is set by hand. */
  private static final class HandClock extends Clock {
    private Instant now = START;

    void wait(int milliseconds) {
      now = now.plusMillis(milliseconds);
    }

    @Override
    public Instant instant() {
      return now;
    }

    @Override
    public ZoneId getZone() {
      return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
      return this;
    }
  }
}
