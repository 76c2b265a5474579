package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.equiphase.matching.Reason.Code;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class ReasonTest {

  private static final List<FrequencyLimit> ONE = List.of(new FrequencyLimit(2.8e9, 3, 0));
  private static final List<FrequencyLimit> THREE =
      List.of(
          new FrequencyLimit(1e9, 3, 0),
          new FrequencyLimit(2e9, 3, 0),
          new FrequencyLimit(3e9, 3, 0));

  @Test
  void withinLimitShowsTheFrequencyClosestToIt() {
    Reason reason = reason(THREE, List.of(1.0, -2.0, 1.5), 0, null);

    assertThat(reason.code()).isEqualTo(Code.WITHIN_LIMIT);
    assertThat(reason.frequencyHz()).isEqualTo(2e9);
    assertThat(reason.errorDeg()).isEqualTo(-2);
    assertThat(reason.text())
        .isEqualTo("Within limits; closest to one is -2.000° at 2000 MHz (limit ±3.000°).");
  }

  @Test
  void tooLongIsCut() {
    Reason reason = reason(ONE, List.of(-4.0), 20, null);

    assertThat(reason.code()).isEqualTo(Code.CUT);
    assertThat(reason.text()).isEqualTo("Too long: -4.000° at 2800 MHz (limit ±3.000°).");
  }

  @Test
  void stretcherShortensOrLengthens() {
    assertThat(reason(ONE, List.of(-4.0), 0, new StretchRange(-5, 5)).code())
        .isEqualTo(Code.SHORTEN);
    Reason reason = reason(ONE, List.of(4.0), 0, new StretchRange(-5, 5));
    assertThat(reason.code()).isEqualTo(Code.LENGTHEN);
    assertThat(reason.text()).isEqualTo("Too short: +4.000° at 2800 MHz (limit ±3.000°).");
    // 1° at 2.8 GHz is c/(360·f) = 0.2974 mm of air line.
    assertThat(reason.neededMm()).isCloseTo(0.2974, within(1e-4));
  }

  @Test
  void shortCableCantGrow() {
    Reason reason = reason(ONE, List.of(4.0), 20, null);

    assertThat(reason.code()).isEqualTo(Code.TOO_SHORT_NO_STRETCHER);
    assertThat(reason.text()).contains("can't grow");
  }

  @Test
  void longCableWithNothingToAdjust() {
    assertThat(reason(ONE, List.of(-4.0), 0, null).code()).isEqualTo(Code.TOO_LONG_FIXED);
  }

  @Test
  void allowanceTooSmallTellsWhatWouldDo() {
    Reason reason = reason(ONE, List.of(-100.0), 10, null);

    assertThat(reason.code()).isEqualTo(Code.ALLOWANCE_TOO_SMALL);
    // 97° of 4.8379° per mm
    assertThat(reason.neededMm()).isCloseTo(20.05, within(0.001));
    assertThat(reason.availableMm()).isCloseTo(10, within(1e-9));
    assertThat(reason.text()).contains("20.050 mm would do, 10.000 mm allowed");
  }

  @Test
  void allowanceTooSmallForTheNextTurn() {
    SetProblem problem =
        new SetProblem(
            Basis.NOMINAL,
            null,
            Turns.MODULO_360,
            1,
            ONE,
            List.of(new Member("A", 0.695, List.of(20.0), 10, null)));

    Reason reason = SetSolver.solve(problem).assemblies().get(0).reason();

    assertThat(reason.code()).isEqualTo(Code.ALLOWANCE_TOO_SMALL);
    // 337° of 4.8379° per mm
    assertThat(reason.neededMm()).isCloseTo(69.658, within(0.001));
  }

  @Test
  void stretcherRangeTooSmall() {
    Reason reason = reason(ONE, List.of(40.0), 0, new StretchRange(0, 5));

    assertThat(reason.code()).isEqualTo(Code.STRETCHER_RANGE_TOO_SMALL);
    // 37° of 3.3623° per mm
    assertThat(reason.neededMm()).isCloseTo(11.004, within(0.001));
    assertThat(reason.availableMm()).isEqualTo(5);
  }

  @Test
  void noPureDelayNamesTheFrequencyToBlame() {
    // A delay of −10° per GHz, and 12° too much at 2 GHz
    Reason reason = reason(THREE, List.of(-10.0, -8.0, -30.0), 100, null);

    assertThat(reason.code()).isEqualTo(Code.NOT_A_PURE_DELAY);
    assertThat(reason.frequencyHz()).isEqualTo(2e9);
    assertThat(reason.text()).contains("-8.000° at 2000 MHz").contains("no pure delay");
  }

  @Test
  void noPureDelayWhereTurnsDontCount() {
    SetProblem problem =
        new SetProblem(
            Basis.NOMINAL,
            null,
            Turns.MODULO_360,
            1,
            List.of(new FrequencyLimit(1e9, 3, 0), new FrequencyLimit(2e9, 3, 0)),
            List.of(new Member("A", 0.7, List.of(0.0, 90.0), 400, null)));

    MemberPlan plan = SetSolver.solve(problem).assemblies().get(0);

    // Twice the phase at 1 GHz is never 90° off that at 2 GHz, whatever the turns
    assertThat(plan.action()).isEqualTo(Action.REPLACE);
    assertThat(plan.reason().code()).isEqualTo(Code.NOT_A_PURE_DELAY);
    assertThat(plan.predictedErrorDeg()).containsExactly(0.0, 90.0);
  }

  private static Reason reason(
      List<FrequencyLimit> limits,
      List<Double> errorDeg,
      double allowanceMm,
      @Nullable StretchRange stretcher) {
    SetProblem problem =
        new SetProblem(
            Basis.NOMINAL,
            null,
            Turns.ABSOLUTE,
            1,
            limits,
            List.of(new Member("A", 0.695, errorDeg, allowanceMm, stretcher)));
    return SetSolver.solve(problem).assemblies().get(0).reason();
  }
}
