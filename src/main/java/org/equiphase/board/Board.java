package org.equiphase.board;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.equiphase.review.Finding.Kind;
import org.equiphase.workorder.OrderStandings.OpenOrder;
import org.equiphase.workorder.OrderStandings.SetCount;
import org.jspecify.annotations.Nullable;

/**
 * A page of open orders, those promised first come first.
 *
 * @param open how many orders are open in all
 * @param page from 0
 */
record Board(LocalDate today, List<Line> lines, long open, int page, boolean more) {

  /** How near an order is to breaking its promise. */
  enum Promise {
    NONE,
    IN_TIME,
    /** Due soon, and something blocks it or is not read yet. */
    IN_DANGER,
    OVERDUE
  }

  /** What assemblies wait for, in the order of the work. */
  enum Stage {
    AWAITING_READING,
    MEASURED,
    TO_ADJUST,
    MEASURE_AGAIN,
    ON_HOLD,
    IN_TOLERANCE,
    MATCHED,
    RELEASED
  }

  /** How many assemblies stand at a stage; where they begin on a bar 240 wide, and how wide. */
  record Part(Stage stage, int assemblies, double x, double width) {}

  /**
   * An order.
   *
   * @param findings by kind; those of each kind that blocks come first
   * @param cutsLeft null where none are made, or there is no history
   * @param cuts whether its assemblies are cut at all
   */
  record Line(
      OpenOrder order,
      Promise promise,
      int assemblies,
      List<Part> parts,
      SetCount sets,
      Map<Kind, Long> findings,
      boolean cuts,
      @Nullable CutsLeft cutsLeft) {

    public long blocking() {
      return findings.entrySet().stream()
          .filter(e -> e.getKey().blocks())
          .mapToLong(Map.Entry::getValue)
          .sum();
    }
  }
}
