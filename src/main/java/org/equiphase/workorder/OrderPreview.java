package org.equiphase.workorder;

import java.util.List;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;

/**
 * What a file of orders would become; nothing of it is stored.
 *
 * @param problems by row, then by column; empty where all of it could be stored
 */
record OrderPreview(List<PlannedOrder> orders, List<BadCell> problems) {

  OrderPreview {
    orders = List.copyOf(orders);
    problems = List.copyOf(problems);
  }

  /** A cell that won't do; the message says what it is and what would do. */
  record BadCell(int row, String heading, Sentence message) {}

  /**
   * An order of the file.
   *
   * @param row the first of its rows
   * @param draft what would be stored; null where something is wrong with it
   */
  record PlannedOrder(
      int row,
      String number,
      String title,
      String dueOn,
      String cableType,
      @Nullable OrderDraft draft) {

    /** How many assemblies it has, in sets and in its pool. */
    public int assemblies() {
      return draft == null
          ? 0
          : draft.poolSerials().size()
              + draft.sets().stream().map(SetDraft::positions).mapToInt(List::size).sum();
    }
  }
}
