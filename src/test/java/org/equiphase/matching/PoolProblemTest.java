package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

import java.util.Arrays;
import java.util.List;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PoolProblemTest {

  private static final PoolLimit LIMIT = new PoolLimit(2.8e9, 3, null);
  private static final Candidate CANDIDATE = Candidate.of("A", List.of(1.0));

  @ParameterizedTest
  @CsvSource({"1, 0, setSize", "0, 0, setSize", "2, -1, spares", "2000000, 0, setSize"})
  void refusesSizesOutOfRange(int setSize, int spares, String field) {
    refused(field, setSize, spares, LIMIT, CANDIDATE);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 3, , frequencyHz",
    "NaN, 3, , frequencyHz",
    "2e12, 3, , frequencyHz",
    "1e9, 0, , toleranceDeg",
    "1e9, -1, , toleranceDeg",
    "1e9, NaN, , toleranceDeg",
    "1e9, Infinity, , toleranceDeg",
    "1e9, 3, 0, lossSpreadDb",
    "1e9, 3, NaN, lossSpreadDb"
  })
  void refusesLimitsOutOfRange(
      double hz, double toleranceDeg, @Nullable Double lossDb, String field) {
    refused("frequencies[0]." + field, 2, 0, new PoolLimit(hz, toleranceDeg, lossDb), CANDIDATE);
  }

  @Test
  void refusesCandidatesThatCantBeJudged() {
    PoolLimit loss = new PoolLimit(1e9, 3, 0.2);
    refused("assemblies[0].serial", 2, 0, LIMIT, Candidate.of(" ", List.of(1.0)));
    refused("assemblies[0].phaseErrorDeg", 2, 0, LIMIT, Candidate.of("A", List.of()));
    refused("assemblies[0].phaseErrorDeg[0]", 2, 0, LIMIT, Candidate.of("A", List.of(Double.NaN)));
    refused("assemblies[0].insertionLossDb", 2, 0, loss, CANDIDATE);
    refused(
        "assemblies[0].insertionLossDb[0]",
        2,
        0,
        loss,
        new Candidate("A", List.of(1.0), Arrays.asList((Double) null), null));
    refused("assemblies[0].velocityFactor", 2, 0, LIMIT, cut(0, 5, null));
    refused("assemblies[0].velocityFactor", 2, 0, LIMIT, cut(1.1, 5, null));
    refused("assemblies[0].trimAllowanceMm", 2, 0, LIMIT, cut(0.7, -1, null));
    refused("assemblies[0].lossDbPerM", 2, 0, loss, cut(0.7, 5, null));
    refused("assemblies[0].lossDbPerM[0]", 2, 0, loss, cut(0.7, 5, List.of(-0.1)));
  }

  @Test
  void refusesASerialNumberUsedTwice() {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> new PoolProblem(2, 0, List.of(LIMIT), List.of(CANDIDATE, CANDIDATE)))
        .withMessageContaining("A")
        .satisfies(e -> assertThat(e.field()).isEqualTo("assemblies[1].serial"));
  }

  private static Candidate cut(
      double velocityFactor, double allowanceMm, @Nullable List<Double> lossDbPerM) {
    return new Candidate(
        "A", List.of(1.0), List.of(0.5), new Cut(velocityFactor, allowanceMm, lossDbPerM));
  }

  private static void refused(
      String field, int setSize, int spares, PoolLimit limit, Candidate candidate) {
    assertThatExceptionOfType(InvalidProblemException.class)
        .isThrownBy(() -> new PoolProblem(setSize, spares, List.of(limit), List.of(candidate)))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
