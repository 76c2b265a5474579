package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.SplittableRandom;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.equiphase.matching.AmplitudeCheck.Agreement;
import org.equiphase.matching.AmplitudeCheck.LossLimit;
import org.equiphase.matching.AmplitudeCheck.Member;
import org.equiphase.matching.AmplitudeCheck.Outsider;
import org.junit.jupiter.api.Test;

/** Amplitude agreement against all subsets of small sets, and worked cases. */
class AmplitudeCheckTest {

  @Test
  void slidesTheWindowAtOneFrequency() {
    Agreement agreement =
        AmplitudeCheck.check(
            List.of(new LossLimit(1e9, 0.3)),
            List.of(
                member("A", 1.0),
                member("B", 1.6),
                member("C", 1.25),
                member("D", 1.5),
                member("E", 1.75)));
    assertThat(agreement.within()).containsExactly("B", "D", "E");
    assertThat(agreement.spreadDb().get(0)).isCloseTo(0.25, within(1e-12));
    assertThat(agreement.outsiders().stream().map(Outsider::serial)).containsExactly("A", "C");
    assertThat(agreement.outsiders().get(1).excessDb()).isCloseTo(0.2, within(1e-12));
    assertThat(agreement.proven()).isTrue();
  }

  @Test
  void blamesTheFrequencyThatIsFarthestOut() {
    Agreement agreement =
        AmplitudeCheck.check(
            List.of(new LossLimit(1e9, 0.2), new LossLimit(2e9, null), new LossLimit(3e9, 0.4)),
            List.of(
                member("A", 1.0, 5.0, 2.0),
                member("B", 1.1, 9.0, 2.1),
                member("C", 1.25, 5.0, 3.1)));
    Outsider outsider = agreement.outsiders().get(0);
    assertThat(outsider.serial()).isEqualTo("C");
    assertThat(outsider.frequencyHz()).isEqualTo(3e9);
    assertThat(outsider.excessDb()).isCloseTo(0.7, within(1e-12));
    assertThat(agreement.spreadDb().get(1)).isCloseTo(4, within(1e-12));
  }

  @Test
  void withoutLimitsAllAgree() {
    Agreement agreement =
        AmplitudeCheck.check(
            List.of(new LossLimit(1e9, null)), List.of(member("A", 1.0), member("B", 9.0)));
    assertThat(agreement.within()).containsExactly("A", "B");
  }

  @Property(tries = 300, seed = "21")
  void asManyAsTheBestSubset(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    List<LossLimit> limits = new ArrayList<>();
    List<Member> members = draw(seed, 10, limits);
    Agreement agreement = AmplitudeCheck.check(limits, members);
    int best = 0;
    for (int subset = 1; subset < 1 << members.size(); subset++) {
      if (Integer.bitCount(subset) > best && fits(subset, limits, members)) {
        best = Integer.bitCount(subset);
      }
    }
    assertThat(agreement.proven()).isTrue();
    assertThat(agreement.within()).hasSize(best);
  }

  @Property(tries = 100, seed = "22")
  void answersHoldTheLimitsEvenWhenStopped(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    List<LossLimit> limits = new ArrayList<>();
    List<Member> members = draw(seed, 60, limits);
    Agreement agreement = AmplitudeCheck.check(limits, members, 100);
    int subset = agreement.within().size();
    assertThat(subset).isPositive();
    for (int k = 0; k < limits.size(); k++) {
      assertThat(agreement.spreadDb().get(k)).isLessThanOrEqualTo(limitDb(limits, k));
    }
    assertThat(agreement.outsiders()).allMatch(o -> o.excessDb() > 0);
    assertThat(subset + agreement.outsiders().size()).isEqualTo(60);
  }

  private static double limitDb(List<LossLimit> limits, int k) {
    return Objects.requireNonNull(limits.get(k).spreadLimitDb()) + 1e-9;
  }

  private static boolean fits(int subset, List<LossLimit> limits, List<Member> members) {
    for (int k = 0; k < limits.size(); k++) {
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (int i = 0; i < members.size(); i++) {
        if ((subset >> i & 1) == 1) {
          low = Math.min(low, members.get(i).lossDb().get(k));
          high = Math.max(high, members.get(i).lossDb().get(k));
        }
      }
      if (high - low > limitDb(limits, k)) {
        return false;
      }
    }
    return true;
  }

  private static List<Member> draw(long seed, int size, List<LossLimit> limits) {
    SplittableRandom random = new SplittableRandom(seed);
    int frequencies = 1 + random.nextInt(4);
    for (int k = 0; k < frequencies; k++) {
      limits.add(new LossLimit(1e9 * (k + 1), 0.2 + 0.4 * random.nextDouble()));
    }
    List<Member> members = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      Double[] loss = new Double[frequencies];
      Arrays.setAll(loss, k -> 1 + random.nextInt(100) / 100.0);
      members.add(member("M" + i, loss));
    }
    return members;
  }

  private static Member member(String serial, Double... lossDb) {
    return new Member(serial, List.of(lossDb));
  }

  /** 1.2 dB/m over 250 mm is 0.3 dB. */
  @Test
  void aCutTakesItsAttenuationAway() {
    assertThat(AmplitudeCheck.lossAfterCutDb(2.0, 1.2, 250)).isCloseTo(1.7, within(1e-12));
  }

  @Test
  void namesTheField() {
    List<LossLimit> limits = List.of(new LossLimit(1e9, 0.3));
    refused(limits, List.of(), "members");
    refused(List.of(), List.of(member("A", 1.0)), "limits");
    refused(
        List.of(new LossLimit(1e9, -1.0)), List.of(member("A", 1.0)), "limits[0].spreadLimitDb");
    refused(limits, List.of(member("A", 1.0), member("A", 1.0)), "members[1].serial");
    refused(limits, List.of(member("A", 1.0, 2.0)), "members[0].lossDb");
    refused(limits, List.of(member("A", Double.NaN)), "members[0].lossDb[0]");
  }

  private static void refused(List<LossLimit> limits, List<Member> members, String field) {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> AmplitudeCheck.check(limits, members))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
