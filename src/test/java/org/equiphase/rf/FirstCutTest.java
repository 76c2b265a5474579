package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;

/** First cuts against an example worked by hand, and against cables made with any velocity. */
class FirstCutTest {

  private static final double C_MM_PER_S = 299_792_458_000.0;
  private static final FirstCut.Connector CONNECTOR = new FirstCut.Connector(12, 5);

  /**
   * By hand: 1760 mm of electrical length, less 2 · 12 mm of connectors, are 1736 mm; 0.7 · 1736 =
   * 1215.2 mm of cable and 2 · 5 mm inside the connectors, 1225.2 mm. The factor's ± 0.0023 are ±
   * 0.0023 · 1736 = ± 3.9928 mm. With 22 mm to trim: 1225.2 + 22 − 3.9928 = 1243.2072, so 1243 mm.
   */
  @Test
  void asWorkedByHand() {
    FirstCut cut = cut(1760, 0.7, 0.0023, 22, 1);
    assertThat(cut.cutMm()).isEqualTo(1243);
    assertThat(cut.finishedMm()).isCloseTo(1225.2, within(1e-9));
    assertThat(cut.finishedSpreadMm()).isCloseTo(3.9928, within(1e-9));
    assertThat(cut.leastTrimMm()).isCloseTo(13.8072, within(1e-9));
    assertThat(cut.mostTrimMm()).isCloseTo(21.7928, within(1e-9));
    assertThat(cut.allowanceTooSmall()).isFalse();
    // Sixteen pieces, each with a saw cut of 2 mm: 16 · 1245 mm.
    assertThat(cut.cableMm(16, 2)).isEqualTo(19_920);
  }

  /** 5 mm can't cover a spread of 2 · 3.9928 mm: 1225.2 + 3.9928 = 1229.1928, so 1230 mm. */
  @Test
  void leavesTheFastestCableLongEnoughWhereTheAllowanceIsTooSmall() {
    FirstCut cut = cut(1760, 0.7, 0.0023, 5, 1);
    assertThat(cut.cutMm()).isEqualTo(1230);
    assertThat(cut.leastTrimMm()).isPositive();
    assertThat(cut.allowanceTooSmall()).isTrue();
  }

  @Test
  void withoutTrimmingItIsTheFinishedLength() {
    FirstCut cut = cut(1760, 0.7, 0.0023, 0, 1);
    assertThat(cut.cutMm()).isEqualTo(1225);
    assertThat(cut.allowanceTooSmall()).isFalse();
  }

  @Test
  void aWholeNumberOfStepsIsNotTakenForLess() {
    // 0.7 · 1000 + 20.1 = 720.1 mm are 7201 steps of 0.1 mm, though not so in binary fractions.
    FirstCut cut =
        FirstCut.of(
            electrical(1000), VelocityFactor.of(0.7), 0, new FirstCut.Connector(0, 0), 20.1, 0.1);
    assertThat(cut.cutMm()).isEqualTo(720.1);
  }

  @Test
  void refusesConnectorsThatLeaveNoCable() {
    assertThatThrownBy(() -> cut(24, 0.7, 0, 1, 1))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("connectorElectricalMm");
  }

  /** A cable made to the cut, with any velocity of the spread, is trimmed to the target's delay. */
  @Property
  void everyCableOfTheSpreadCanBeTrimmedToTheTarget(
      @ForAll @DoubleRange(min = 200, max = 50_000) double electricalMm,
      @ForAll @DoubleRange(min = 0.6, max = 0.95) double velocityFactor,
      @ForAll @DoubleRange(min = 0, max = 0.01) double tolerance,
      @ForAll @DoubleRange(min = -1, max = 1) double within,
      @ForAll @DoubleRange(min = 0.5, max = 100) double allowanceMm,
      @ForAll @DoubleRange(min = 0.1, max = 5) double stepMm) {
    FirstCut cut = cut(electricalMm, velocityFactor, tolerance, allowanceMm, stepMm);
    double madeOf = velocityFactor + within * tolerance;
    double delayS = ((cut.cutMm() - 2 * 5) / madeOf + 2 * 12) / C_MM_PER_S;
    double trimMm = (delayS - electricalMm / C_MM_PER_S) * madeOf * C_MM_PER_S;
    assertThat(trimMm)
        .isBetween(cut.leastTrimMm() - 1e-6, cut.mostTrimMm() + 1e-6)
        .isGreaterThan(-1e-4);
    if (!cut.allowanceTooSmall()) {
      assertThat(trimMm).isLessThan(allowanceMm + 1e-4);
    }
  }

  private static FirstCut cut(
      double electricalMm,
      double velocityFactor,
      double tolerance,
      double allowanceMm,
      double stepMm) {
    return FirstCut.of(
        electrical(electricalMm),
        VelocityFactor.of(velocityFactor),
        tolerance,
        CONNECTOR,
        allowanceMm,
        stepMm);
  }

  private static Delay electrical(double mm) {
    return Delay.ofSeconds(mm / C_MM_PER_S);
  }
}
