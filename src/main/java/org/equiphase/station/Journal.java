package org.equiphase.station;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * What became of each file, one line each: time, hash, outcome, name and note, separated by tabs. A
 * line is on the disk before its file is moved, so a file that a crash left behind is known again
 * and not sent a second time.
 */
final class Journal {

  static final String FILE_NAME = ".equiphase-station.log";

  private static final int FIELDS = 5;

  private final Path file;
  private final Map<String, String> sent = new HashMap<>();
  private boolean atLineStart = true;

  private Journal(Path file) {
    this.file = file;
  }

  /** What the service said to a file. */
  enum Outcome {
    SENT,
    REFUSED
  }

  /** Opens the journal of a folder; a line that a power cut left half written is dropped. */
  static Journal open(Path folder) throws IOException {
    Journal journal = new Journal(folder.resolve(FILE_NAME));
    if (Files.exists(journal.file)) {
      byte[] bytes = Files.readAllBytes(journal.file);
      int end = bytes.length;
      while (end > 0 && bytes[end - 1] != '\n') {
        end--;
      }
      if (end < bytes.length) {
        try (RandomAccessFile torn = new RandomAccessFile(journal.file.toFile(), "rw")) {
          torn.setLength(end);
        }
      }
      new String(bytes, 0, end, StandardCharsets.UTF_8).lines().forEach(journal::read);
    }
    return journal;
  }

  /** Skips what it can't read: the file is sent again then, and the service knows it. */
  private void read(String line) {
    String[] fields = line.split("\t", FIELDS);
    if (fields.length == FIELDS && fields[2].equals(Outcome.SENT.name())) {
      sent.put(fields[1], fields[4]);
    }
  }

  /** The note on a file that the service has, by the hash of its name and content. */
  Optional<String> sent(String hash) {
    return Optional.ofNullable(sent.get(hash));
  }

  /** Adds a line and forces it to the disk. */
  void add(Instant at, String hash, Outcome outcome, String name, String note) throws IOException {
    String line =
        String.join(
            "\t",
            at.truncatedTo(ChronoUnit.SECONDS).toString(),
            hash,
            outcome.name(),
            oneLine(name),
            oneLine(note));
    String text = (atLineStart ? "" : "\n") + line + "\n";
    atLineStart = false;
    try (FileChannel channel =
        FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
      while (bytes.hasRemaining()) {
        channel.write(bytes);
      }
      channel.force(true);
    }
    atLineStart = true;
    if (outcome == Outcome.SENT) {
      sent.put(hash, oneLine(note));
    }
  }

  private static String oneLine(String text) {
    return text.replaceAll("\\p{Cntrl}", " ");
  }
}
