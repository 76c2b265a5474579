package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import org.equiphase.station.Journal.Outcome;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class JournalTest {

  private static final Instant AT = Instant.parse("2026-11-25T10:00:00.5Z");

  private Path folder;

  @BeforeEach
  void choose(@TempDir Path temporary) {
    folder = temporary;
  }

  @Test
  void oneLinePerFile() throws IOException {
    Journal.open(folder).add(AT, "h1", Outcome.SENT, "A\t1\n.csv", "reading 12 of A1");
    assertThat(text()).isEqualTo("2026-11-25T10:00:00Z\th1\tSENT\tA 1 .csv\treading 12 of A1\n");
    assertThat(Journal.open(folder).sent("h1")).contains("reading 12 of A1");
  }

  /** A refused file may do after the order was mended, so it is not held back. */
  @Test
  void aRefusedFileMayComeAgain() throws IOException {
    Journal journal = Journal.open(folder);
    journal.add(AT, "h1", Outcome.REFUSED, "A1.csv", "line 2");
    assertThat(journal.sent("h1")).isEmpty();
    assertThat(Journal.open(folder).sent("h1")).isEmpty();
    assertThat(text()).contains("REFUSED");
  }

  @Test
  void aTornLastLineIsDropped() throws IOException {
    Journal journal = Journal.open(folder);
    journal.add(AT, "h1", Outcome.SENT, "A1.csv", "reading 1 of A1");
    journal.add(AT, "h2", Outcome.SENT, "A2.csv", "reading 2 of A2");
    String whole = text();
    int second = whole.indexOf('\n') + 1;
    for (int length = second; length < whole.length(); length++) {
      Files.writeString(file(), whole.substring(0, length));
      Journal torn = Journal.open(folder);
      assertThat(torn.sent("h1")).isPresent();
      assertThat(torn.sent("h2")).isEmpty();
      torn.add(AT, "h3", Outcome.SENT, "A3.csv", "reading 3 of A3");
      assertThat(Journal.open(folder).sent("h3")).contains("reading 3 of A3");
      assertThat(text()).startsWith(whole.substring(0, second)).hasLineCount(2);
    }
  }

  /** After a power cut a block of the disk may hold zeros. */
  @Test
  void linesThatDontReadAreSkipped() throws IOException {
    Journal journal = Journal.open(folder);
    Files.write(
        file(), new byte[] {0, 0, 0, '\n', (byte) 0xff, '\t', '\n'}, StandardOpenOption.CREATE);
    journal.add(AT, "h1", Outcome.SENT, "A1.csv", "reading 1 of A1");
    assertThat(Journal.open(folder).sent("h1")).isPresent();
  }

  private Path file() {
    return folder.resolve(Journal.FILE_NAME);
  }

  private String text() throws IOException {
    return Files.readString(file());
  }
}
