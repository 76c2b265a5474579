package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import org.equiphase.measurement.Reading;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/**
 * Which reading shows what a cut came to. That one taken before a cut tells nothing of it is a fact
 * of the trade, no source; that the first one recorded afterwards counts is this shop's rule.
 */
class InstructionTest {

  private static final Instant SIGNED_OFF = Instant.parse("2026-03-02T10:00:00Z");
  private static final Reading OF_THE_CUT = reading(1, "2026-03-02T09:00:00Z", null);
  private static final Reading TAKEN_BEFORE = reading(2, "2026-03-02T09:59:59Z", null);
  private static final Reading FIRST = reading(3, "2026-03-02T12:00:00Z", null);
  private static final Reading TAKEN_EARLIER = reading(4, "2026-03-02T11:00:00Z", null);
  private static final Reading VOID =
      reading(3, "2026-03-02T12:00:00Z", new Reading.Voided(SIGNED_OFF, "qa", "bent pin"));

  @Test
  void aReadingTakenBeforeTheCutAndRecordedAfterItDoesNotShowIt() {
    Instruction cut = cut(SIGNED_OFF);
    assertThat(cut.doneAfter(OF_THE_CUT)).isTrue();
    assertThat(cut.doneAfter(TAKEN_BEFORE)).isTrue();
    assertThat(cut.doneAfter(FIRST)).isFalse();
    assertThat(cut.firstAfter(List.of(OF_THE_CUT, TAKEN_BEFORE))).isEmpty();
  }

  @Test
  void theFirstOneRecordedCountsInWhicheverOrderTheyAreGiven() {
    Instruction cut = cut(SIGNED_OFF);
    assertThat(cut.firstAfter(List.of(TAKEN_EARLIER, FIRST, TAKEN_BEFORE))).contains(FIRST);
    assertThat(cut.firstAfter(List.of(VOID, TAKEN_EARLIER))).contains(TAKEN_EARLIER);
  }

  @Test
  void workThatIsNotSignedOffHasNoReadingAfterIt() {
    Instruction issued = cut(null);
    assertThat(issued.doneAfter(OF_THE_CUT)).isFalse();
    assertThat(issued.firstAfter(List.of(FIRST))).isEmpty();
  }

  private static Instruction cut(@Nullable Instant doneAt) {
    return new Instruction(
        7,
        0,
        1,
        OF_THE_CUT.id(),
        Instruction.Action.TRIM,
        3,
        null,
        null,
        "",
        1,
        "",
        null,
        doneAt == null ? Instruction.State.ISSUED : Instruction.State.DONE,
        OF_THE_CUT.takenAt(),
        doneAt == null ? null : new Instruction.Done(doneAt, "technician", 3.0, null, ""),
        List.of());
  }

  private static Reading reading(long id, String takenAt, Reading.@Nullable Voided voided) {
    Instant taken = Instant.parse(takenAt);
    return new Reading(
        id,
        1,
        1,
        Method.TRANSMISSION,
        Reading.Source.FILE,
        23,
        taken,
        taken,
        "technician",
        null,
        null,
        null,
        null,
        null,
        null,
        0.2,
        List.of(),
        voided);
  }
}
