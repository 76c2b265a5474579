package org.equiphase.rf.touchstone;

import java.io.IOException;
import java.io.Reader;
import org.jspecify.annotations.Nullable;

/** Hands out the lines of a text within limits; CR, LF and CR LF end a line. */
final class Lines {
  private static final int END_OF_TEXT = 0x1A;
  private static final String UTF_8_MARK_AS_LATIN_1 = "\u00EF\u00BB\u00BF";
  private static final String UNICODE_MARK = "\uFEFF";

  private final Reader reader;
  private final ReadLimits limits;
  private final StringBuilder text = new StringBuilder();
  private final char[] buffer = new char[8192];
  private int at;
  private int filled;
  private long taken;
  private int number;
  private boolean afterCarriageReturn;
  private boolean ended;
  private boolean lastLineOpen;

  Lines(Reader reader, ReadLimits limits) {
    this.reader = reader;
    this.limits = limits;
  }

  /** Number of the line handed out last, from 1. */
  int number() {
    return number;
  }

  /** Whether the text ended without a line end, as a file does that was cut off. */
  boolean lastLineOpen() {
    return lastLineOpen;
  }

  /** The next line without its end, or null after the last. */
  @Nullable String next() throws IOException {
    if (ended) {
      return null;
    }
    text.setLength(0);
    number++;
    while (true) {
      takePlainCharacters();
      int c = read();
      if (c < 0 || c == END_OF_TEXT) {
        ended = true;
        lastLineOpen = !text.isEmpty();
        if (lastLineOpen) {
          return line();
        }
        number = Math.max(1, number - 1);
        return null;
      }
      if (++taken > limits.maxBytes()) {
        throw fault(
            "the file is larger than " + limits.maxBytes() + " bytes, the most that is read");
      }
      boolean secondOfPair = c == '\n' && afterCarriageReturn;
      afterCarriageReturn = c == '\r';
      if (secondOfPair) {
        continue;
      }
      if (c == '\n' || c == '\r') {
        return line();
      }
      if (c < ' ' && c != '\t' && c != '\f') {
        throw fault("the file holds binary data; a Touchstone file is plain text");
      }
      if (text.length() >= limits.maxLineLength()) {
        throw fault(
            "the line is longer than "
                + limits.maxLineLength()
                + " characters, the most that is"
                + " read");
      }
      text.append((char) c);
    }
  }

  /** The common case at once: a run of characters with nothing to look at but its length. */
  private void takePlainCharacters() {
    int start = at;
    int room = limits.maxLineLength() - text.length();
    int end = (int) Math.min(filled, (long) start + Math.min(room, limits.maxBytes() - taken));
    while (at < end && buffer[at] >= ' ') {
      at++;
    }
    if (at > start) {
      text.append(buffer, start, at - start);
      taken += at - start;
      afterCarriageReturn = false;
    }
  }

  private int read() throws IOException {
    if (at == filled) {
      filled = reader.read(buffer, 0, buffer.length);
      at = 0;
      if (filled <= 0) {
        filled = 0;
        return -1;
      }
    }
    return buffer[at++];
  }

  private String line() {
    String line = text.toString();
    if (number == 1) {
      if (line.startsWith("\u00FF\u00FE") || line.startsWith("\u00FE\u00FF")) {
        throw fault("the file is UTF-16 text; save it as plain text (ASCII or UTF-8)");
      }
      for (String mark : new String[] {UTF_8_MARK_AS_LATIN_1, UNICODE_MARK}) {
        if (line.startsWith(mark)) {
          return line.substring(mark.length());
        }
      }
    }
    return line;
  }

  private TouchstoneException fault(String message) {
    return new TouchstoneException(number, "file", message);
  }
}
