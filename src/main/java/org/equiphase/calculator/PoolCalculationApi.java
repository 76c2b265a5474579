package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.web.Require.present;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.util.List;
import java.util.Map;
import org.equiphase.matching.PoolProblem;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.equiphase.matching.PoolSet;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Matched sets out of a pool of assemblies; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class PoolCalculationApi {

  private static final int DEFAULT_TIME_LIMIT_MS = 2_000;
  private static final int LONGEST_TIME_LIMIT_MS = 60_000;

  record LimitRequest(
      @Nullable Double frequencyHz, @Nullable Double toleranceDeg, @Nullable Double lossSpreadDb) {}

  /** Loss is needed where its spread is limited; a trim allowance above 0 lets it be cut. */
  record CandidateRequest(
      @Nullable String serial,
      @Nullable List<@Nullable Double> phaseErrorDeg,
      @Nullable List<@Nullable Double> insertionLossDb,
      @Nullable Double velocityFactor,
      @Nullable Double trimAllowanceMm,
      @Nullable List<@Nullable Double> lossDbPerM) {}

  record SetBuildingRequest(
      @Nullable Integer setSize,
      @Nullable Integer spares,
      @Nullable List<LimitRequest> frequencies,
      @Nullable List<CandidateRequest> assemblies,
      @Nullable Integer timeLimitMs) {}

  /** Spares, loss and trims appear only where the request asks for them. */
  @JsonInclude(JsonInclude.Include.NON_EMPTY)
  record SetAnswer(
      List<String> serials,
      List<Double> spreadDeg,
      List<String> spares,
      List<Double> spreadDb,
      Map<String, Double> trimMm) {

    static SetAnswer of(PoolSet set) {
      return new SetAnswer(
          set.serials(), set.spreadDeg(), set.spares(), set.spreadDb(), set.trimMm());
    }
  }

  record SetBuildingAnswer(
      List<SetAnswer> sets, List<String> unused, int upperBound, boolean optimal) {}

  /** As many matched sets as possible, then the tightest. */
  @PostMapping("/set-building")
  SetBuildingAnswer setBuilding(@RequestBody SetBuildingRequest request) {
    List<LimitRequest> frequencies = present("frequencies", request.frequencies);
    List<CandidateRequest> assemblies = present("assemblies", request.assemblies);
    PoolProblem problem =
        new PoolProblem(
            present("setSize", request.setSize),
            request.spares == null ? 0 : request.spares,
            indexed("frequencies", frequencies, PoolCalculationApi::limit),
            indexed("assemblies", assemblies, PoolCalculationApi::candidate));
    PoolSolution solution =
        PoolSolver.solve(problem, timeLimitMs(request.timeLimitMs) * PoolSolver.WORK_PER_MS);
    return new SetBuildingAnswer(
        solution.sets().stream().map(SetAnswer::of).toList(),
        solution.unused(),
        solution.upperBound(),
        solution.optimal());
  }

  private static long timeLimitMs(@Nullable Integer requested) {
    int limit = requested == null ? DEFAULT_TIME_LIMIT_MS : requested;
    if (limit < 1 || limit > LONGEST_TIME_LIMIT_MS) {
      throw InvalidInputException.of(
          "timeLimitMs", "must be from 1 to " + LONGEST_TIME_LIMIT_MS + ", not " + limit);
    }
    return limit;
  }

  private static PoolLimit limit(String at, LimitRequest limit) {
    return new PoolLimit(
        present(at + ".frequencyHz", limit.frequencyHz),
        present(at + ".toleranceDeg", limit.toleranceDeg),
        limit.lossSpreadDb);
  }

  private static Candidate candidate(String at, CandidateRequest a) {
    String serial = present(at + ".serial", a.serial);
    List<Double> errors =
        numbers(at + ".phaseErrorDeg", present(at + ".phaseErrorDeg", a.phaseErrorDeg));
    Cut cut =
        a.trimAllowanceMm == null
            ? null
            : new Cut(
                present(at + ".velocityFactor", a.velocityFactor),
                a.trimAllowanceMm,
                a.lossDbPerM == null ? null : numbers(at + ".lossDbPerM", a.lossDbPerM));
    List<Double> lossDb =
        a.insertionLossDb == null ? null : numbers(at + ".insertionLossDb", a.insertionLossDb);
    return new Candidate(serial, errors, lossDb, cut);
  }

  private static List<Double> numbers(String field, List<@Nullable Double> values) {
    return indexed(field, values, (at, value) -> value);
  }
}
