package org.equiphase.workbook;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What becomes of a row that was filled in.
 *
 * @param row as the spreadsheet program counts, from 1
 * @param reason why it is not stored; null where it is
 */
public record RowOutcome(
    int row, String serial, Verdict verdict, @Nullable Sentence reason, List<Change> changes) {

  /** What will happen to the row. */
  public enum Verdict {
    STORE,
    /** The same was stored before. */
    ALREADY,
    /** Something else was stored meanwhile. */
    CONFLICT,
    /** The instruction or its reading has been replaced since the workbook was made. */
    STALE,
    /** No such assembly in the order. */
    UNKNOWN,
    /** The row says too little, or something that can't be. */
    REFUSED
  }

  /** One value: what is asked or stored now, and what the row says. */
  public record Change(Sentence what, Sentence now, Sentence would) {}

  public RowOutcome {
    changes = List.copyOf(changes);
  }

  /** A line for each change; an empty one where nothing would change. */
  public List<@Nullable Change> lines() {
    return changes.isEmpty() ? Collections.singletonList(null) : new ArrayList<>(changes);
  }

  RowOutcome refused(Sentence why) {
    return new RowOutcome(row, serial, Verdict.REFUSED, why, changes);
  }
}
