package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SetProblemTest {

  private static final FrequencyLimit LIMIT = new FrequencyLimit(2.8e9, 3, 1);
  private static final Member MEMBER = member("A", -4, 0.7, 20, null);

  @Test
  void namesTheFieldOfAMember() {
    List<Member> members = new ArrayList<>();
    for (String serial : List.of("A", "B", "C")) {
      members.add(member(serial, 0, 0.7, 0, null));
    }
    members.add(member("D", Double.NaN, 0.7, 0, null));

    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> problem(Basis.SET, null, 1, List.of(LIMIT), members))
        .withMessageContaining("NaN")
        .satisfies(e -> assertThat(e.field()).isEqualTo("assemblies[3].phaseErrorDeg[0]"));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -0.1, 1.01, Double.NaN, Double.POSITIVE_INFINITY})
  void refusesAimOutOfRange(double aimFraction) {
    refused("aimFraction", Basis.SET, null, aimFraction, LIMIT, MEMBER);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 3, 0, frequencyHz",
    "-1, 3, 0, frequencyHz",
    "2e12, 3, 0, frequencyHz",
    "NaN, 3, 0, frequencyHz",
    "1e9, 0, 0, toleranceDeg",
    "1e9, -3, 0, toleranceDeg",
    "1e9, Infinity, 0, toleranceDeg",
    "1e9, NaN, 0, toleranceDeg",
    "1e9, 3, -1, guardDeg",
    "1e9, 3, 3.1, guardDeg",
    "1e9, 3, NaN, guardDeg"
  })
  void refusesFrequencyOutOfRange(double hz, double tolerance, double guard, String field) {
    FrequencyLimit limit = new FrequencyLimit(hz, tolerance, guard);

    refused("frequencies[0]." + field, Basis.SET, null, 1, limit, MEMBER);
  }

  @Test
  void toleranceOfMoreThanHalfATurnNeedsTurnsThatCount() {
    FrequencyLimit wide = new FrequencyLimit(1e9, 181, 0);

    assertThat(problem(Basis.SET, null, 1, List.of(wide), List.of(MEMBER))).isNotNull();
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(
            () ->
                new SetProblem(
                    Basis.SET, null, Turns.MODULO_360, 1, List.of(wide), List.of(MEMBER)))
        .satisfies(e -> assertThat(e.field()).isEqualTo("frequencies[0].toleranceDeg"));
  }

  @ParameterizedTest
  @CsvSource({
    "Infinity, 0.7, 1, phaseErrorDeg[0]",
    "0, 0, 1, velocityFactor",
    "0, 1.1, 1, velocityFactor",
    "0, NaN, 1, velocityFactor",
    "0, 0.7, -1, trimAllowanceMm",
    "0, 0.7, NaN, trimAllowanceMm",
    "0, 0.7, 1e6, trimAllowanceMm"
  })
  void refusesMemberOutOfRange(double error, double velocity, double allowance, String field) {
    Member member = member("A", error, velocity, allowance, null);

    refused("assemblies[0]." + field, Basis.SET, null, 1, LIMIT, member);
  }

  @ParameterizedTest
  @CsvSource({"NaN, 1, minMm", "5, 4, maxMm", "0, Infinity, maxMm", "-1e6, 0, minMm"})
  void refusesStretcherOutOfRange(double minMm, double maxMm, String field) {
    Member member = member("A", 0, 0.7, 0, new StretchRange(minMm, maxMm));

    refused("assemblies[0].stretcher." + field, Basis.SET, null, 1, LIMIT, member);
  }

  @Test
  void refusesMissingParts() {
    refused("frequencies", Basis.SET, null, List.of(), List.of(MEMBER));
    refused("assemblies", Basis.SET, null, List.of(LIMIT), List.of());
    refused("masterSerial", Basis.MASTER, null, List.of(LIMIT), List.of(MEMBER));
    refused("masterSerial", Basis.MASTER, "nobody", List.of(LIMIT), List.of(MEMBER));
    refused("assemblies[1].serial", Basis.SET, null, List.of(LIMIT), List.of(MEMBER, MEMBER));
    refused(
        "assemblies[0].serial",
        Basis.SET,
        null,
        List.of(LIMIT),
        List.of(member(" ", 0, 0.7, 0, null)));
    refused("assemblies[0].phaseErrorDeg", Basis.SET, null, List.of(LIMIT, LIMIT), List.of(MEMBER));
    Member holed = new Member("A", 0.7, Arrays.asList(0.0, null), 0, null);
    refused(
        "assemblies[0].phaseErrorDeg[1]", Basis.SET, null, List.of(LIMIT, LIMIT), List.of(holed));
  }

  @Test
  void anyFiniteErrorWillDoAsOnlyDifferencesCount() {
    SetProblem far =
        problem(
            Basis.SET,
            null,
            1,
            List.of(LIMIT),
            List.of(member("A", 1e9, 0.7, 0, null), member("B", 1e9 + 2, 0.7, 0, null)));

    assertThat(SetSolver.solve(far).outcome()).isEqualTo(Outcome.MATCHED);
  }

  @Test
  void refusesDistancesBeyondANumber() {
    SetProblem far =
        problem(
            Basis.SET,
            null,
            1,
            List.of(LIMIT),
            List.of(
                member("A", Double.MAX_VALUE, 0.7, 0, null),
                member("B", -Double.MAX_VALUE, 0.7, 0, null)));

    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> SetSolver.solve(far))
        .satisfies(e -> assertThat(e.field()).startsWith("assemblies["));
  }

  private static void refused(
      String field,
      Basis basis,
      @Nullable String master,
      double aimFraction,
      FrequencyLimit limit,
      Member member) {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> problem(basis, master, aimFraction, List.of(limit), List.of(member)))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }

  private static void refused(
      String field,
      Basis basis,
      @Nullable String master,
      List<FrequencyLimit> limits,
      List<Member> members) {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> problem(basis, master, 1, limits, members))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }

  private static Member member(
      String serial,
      double errorDeg,
      double velocityFactor,
      double allowanceMm,
      @Nullable StretchRange stretcher) {
    return new Member(serial, velocityFactor, List.of(errorDeg), allowanceMm, stretcher);
  }

  private static SetProblem problem(
      Basis basis,
      @Nullable String master,
      double aimFraction,
      List<FrequencyLimit> limits,
      List<Member> members) {
    return new SetProblem(basis, master, Turns.ABSOLUTE, aimFraction, limits, members);
  }
}
