package org.equiphase.board;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.Map;
import org.equiphase.board.Board.Promise;
import org.equiphase.board.Board.Stage;
import org.equiphase.board.CutsLeft.Work;
import org.equiphase.process.CutHistory.Taken;
import org.equiphase.review.Finding.Kind;
import org.junit.jupiter.api.Test;

/** The forecast and the promise against examples worked by hand. */
class CutsLeftTest {

  /**
   * Of ten decided assemblies six took no cut, three one and one two: mean 0.5, variance (7 −
   * 5²/10)/9 = 0.5; of the four that were cut mean 1.25, variance (7 − 5²/4)/3 = 0.25. Four unread,
   * two to cut, one cut: 4·0.5 + 2·1.25 + 0.25 = 4.75; variance 4·0.5 + 16·0.5/10 + 3·0.25 +
   * 9·0.25/4 = 4.1125.
   */
  @Test
  void forecastByHand() {
    CutsLeft left = CutsLeft.of(new Work(4, 2, 1), new Taken(10, 4, 5, 7), true);

    assertThat(left.expected()).isCloseTo(4.75, within(1e-12));
    assertThat(left.plusMinus()).isCloseTo(2 * Math.sqrt(4.1125), within(1e-12));
    assertThat(left.decided()).isEqualTo(10);
  }

  /** Nine of nine without a cut: none expected of the unread, one of that with an instruction. */
  @Test
  void anInstructedCutIsACut() {
    CutsLeft left = CutsLeft.of(new Work(4, 1, 0), new Taken(9, 0, 0, 0), true);

    assertThat(left.expected()).isEqualTo(1);
    assertThat(left.plusMinus()).isZero();
  }

  @Test
  void twoLotsAddAsIfTheyWentIndependently() {
    CutsLeft sum = new CutsLeft(2, 3, 10, true).plus(new CutsLeft(1, 4, 6, false));

    assertThat(sum).isEqualTo(new CutsLeft(3, 5, 16, false));
  }

  @Test
  void promises() {
    LocalDate today = LocalDate.of(2026, 5, 4);
    Map<Stage, Integer> read = Map.of(Stage.TO_ADJUST, 2);
    Map<Stage, Integer> unread = Map.of(Stage.AWAITING_READING, 1);
    Map<Kind, Long> blocked = Map.of(Kind.SHORT, 1L);
    Map<Kind, Long> doubtful = Map.of(Kind.AT_RISK, 1L);

    assertThat(Boards.promise(null, today, unread, blocked)).isEqualTo(Promise.NONE);
    assertThat(Boards.promise(today.minusDays(1), today, read, Map.of()))
        .isEqualTo(Promise.OVERDUE);
    assertThat(Boards.promise(today, today, read, doubtful)).isEqualTo(Promise.IN_TIME);
    assertThat(Boards.promise(today.plusDays(7), today, read, blocked))
        .isEqualTo(Promise.IN_DANGER);
    assertThat(Boards.promise(today.plusDays(7), today, unread, Map.of()))
        .isEqualTo(Promise.IN_DANGER);
    assertThat(Boards.promise(today.plusDays(8), today, unread, blocked))
        .isEqualTo(Promise.IN_TIME);
  }
}
