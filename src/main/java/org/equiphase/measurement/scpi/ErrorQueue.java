package org.equiphase.measurement.scpi;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.equiphase.measurement.scpi.ScpiException.InstrumentError;
import org.equiphase.measurement.scpi.ScpiException.NoAnswer;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;

/**
 * The errors that an instrument keeps: its error queue (SCPI-99, SYSTem:ERRor?), emptied entry by
 * entry, or its event status register (*ESR?) where that is all it has.
 */
final class ErrorQueue {

  private static final Pattern ENTRY = Pattern.compile("([+-]?\\d{1,9})\\s*(?:,\\s*\"(.*)\")?");

  /** More than queues usually hold; a broken one must not keep us. */
  private static final int MOST_ENTRIES = 50;

  private static final int QUERY_ERROR = 1 << 2;
  private static final int DEVICE_ERROR = 1 << 3;
  private static final int EXECUTION_ERROR = 1 << 4;
  private static final int COMMAND_ERROR = 1 << 5;

  private final ScpiSocket socket;
  private final String query;

  /**
   * @param query what reads the next error; empty asks for none
   */
  ErrorQueue(ScpiSocket socket, String query) {
    this.socket = socket;
    this.query = query;
  }

  private record Entry(int number, String text) {
    @Override
    public String toString() {
      return number + (text.isEmpty() ? "" : " \"" + text + "\"");
    }
  }

  /**
   * Empties the queue.
   *
   * @param after the command that would be to blame
   * @throws InstrumentError if it held anything
   */
  void requireNone(String after) {
    if (query.isEmpty()) {
      return;
    }
    List<Entry> entries = new ArrayList<>();
    Entry entry = next();
    while (entry.number != 0 && entries.size() < MOST_ENTRIES) {
      entries.add(entry);
      entry = next();
    }
    if (!entries.isEmpty()) {
      throw error(entries, after);
    }
  }

  /**
   * Says the instrument's own reason for keeping silent, if it has one. Only an error with its text
   * counts: a bare number may be the answer that was waited for, come late.
   */
  void explain(NoAnswer silence, String unanswered) {
    if (query.isEmpty() || isStatus()) {
      return;
    }
    Entry entry;
    try {
      entry = next();
    } catch (ScpiException stillNothing) {
      silence.addSuppressed(stillNothing);
      return;
    }
    if (entry.number != 0 && !entry.text.isEmpty()) {
      throw error(List.of(entry), unanswered);
    }
  }

  private boolean isStatus() {
    return query.toUpperCase(Locale.ROOT).startsWith("*ESR");
  }

  private Entry next() {
    String answer = socket.ask(query);
    Matcher entry = ENTRY.matcher(answer);
    if (!entry.matches()) {
      throw new UnusableAnswer("noError", query, ScpiSocket.shown(answer));
    }
    int number = Integer.parseInt(entry.group(1));
    if (isStatus()) {
      return ofStatus(number);
    }
    String text = entry.group(2);
    return new Entry(number, text == null ? "" : ScpiSocket.shown(text));
  }

  /** The register as the general error of SCPI-99 for its kind; reading it has cleared it. */
  private static Entry ofStatus(int status) {
    if ((status & COMMAND_ERROR) != 0) {
      return new Entry(-100, "Command error");
    }
    if ((status & EXECUTION_ERROR) != 0) {
      return new Entry(-200, "Execution error");
    }
    if ((status & DEVICE_ERROR) != 0) {
      return new Entry(-300, "Device-specific error");
    }
    return (status & QUERY_ERROR) != 0 ? new Entry(-400, "Query error") : new Entry(0, "");
  }

  private static InstrumentError error(List<Entry> entries, String after) {
    int number = entries.get(0).number;
    boolean unknownCommand = number <= -100 && number > -200;
    return new InstrumentError(
        number,
        unknownCommand ? "unknownCommand" : "instrumentError",
        entries.stream().map(Entry::toString).collect(Collectors.joining(", ")),
        after);
  }
}
