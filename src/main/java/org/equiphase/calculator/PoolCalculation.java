package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.equiphase.calculator.PoolCalculationApi.CandidateRequest;
import org.equiphase.calculator.PoolCalculationApi.LimitRequest;
import org.equiphase.calculator.PoolCalculationApi.SetAnswer;
import org.equiphase.calculator.PoolCalculationApi.SetBuildingAnswer;
import org.equiphase.calculator.PoolCalculationApi.SetBuildingRequest;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** As many matched sets as possible out of a pool. */
@Component
@Order(6)
class PoolCalculation implements Calculation {

  private final PoolCalculationApi pools;

  PoolCalculation(PoolCalculationApi pools) {
    this.pools = pools;
  }

  @Override
  public String name() {
    return "pool";
  }

  @Override
  public String title() {
    return "matching.pool.title";
  }

  @Override
  public String about() {
    return "matching.pool.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("setSize", "matching.pool.setSize", null, "3"),
        Input.of("spares", "matching.pool.sparesKept", null, "0").orEmpty(),
        Input.area("frequencies", "matching.pool.frequencies", "2800; 3\n3000; 3.2"),
        Input.area(
                "members",
                "matching.pool.assemblies",
                """
                P01; -4.1; -4.4
                P02; -3.0; -3.1
                P03; 0.2; 0.1
                P04; 1.1; 1.3
                P05; 2.6; 2.7
                P06; 6.9; 7.4
                P07; 8.0; 8.5
                P08; 11.7; 12.6""")
            .as("assemblies"));
  }

  /**
   * How far a set is apart at one frequency: greatest less least error, cuts included.
   *
   * @param limitDeg twice the tolerance
   */
  record Spread(
      double frequencyHz,
      String highSerial,
      double highDeg,
      String lowSerial,
      double lowDeg,
      double spreadDeg,
      double limitDeg) {}

  /** A cut, and what it makes of the error at one frequency. */
  record CutSum(
      String serial,
      double frequencyHz,
      double errorDeg,
      double degreesPerMm,
      double trimMm,
      double afterDeg) {}

  record PoolSetSum(SetAnswer answer, List<Spread> spreads, List<CutSum> cuts) {}

  record Result(
      SetBuildingAnswer answer,
      int groupSize,
      int candidates,
      List<LimitRequest> frequencies,
      boolean lossLimited,
      List<PoolSetSum> sets) {

    public boolean anyCut() {
      return sets.stream().anyMatch(s -> !s.cuts().isEmpty());
    }

    public boolean anySpare() {
      return sets.stream().anyMatch(s -> !s.answer().spares().isEmpty());
    }
  }

  @Override
  public Result calculate(Typed typed) {
    Integer setSize = typed.whole("setSize");
    Integer spares = typed.optionalWhole("spares");
    List<LimitRequest> limits = new ArrayList<>();
    for (Typed.Row row : typed.rows("frequencies")) {
      row.atMost(3);
      limits.add(
          new LimitRequest(
              row.number(0, "calculator.cell.frequency", 1e6),
              row.number(1, "calculator.cell.tolerance"),
              row.optional(2, "calculator.cell.lossSpread")));
    }
    boolean lossLimited = limits.stream().anyMatch(limit -> limit.lossSpreadDb() != null);
    List<CandidateRequest> candidates =
        typed.rows("members").stream()
            .map(row -> candidate(row, limits.size(), lossLimited))
            .toList();
    typed.done();
    SetBuildingAnswer answer =
        pools.setBuilding(new SetBuildingRequest(setSize, spares, limits, candidates, null));
    Map<String, CandidateRequest> bySerial = new HashMap<>();
    candidates.forEach(c -> bySerial.put(present("serial", c.serial()), c));
    return new Result(
        answer,
        present("setSize", setSize) + (spares == null ? 0 : spares),
        candidates.size(),
        limits,
        lossLimited,
        answer.sets().stream().map(set -> summed(set, limits, bySerial)).toList());
  }

  private static CandidateRequest candidate(Typed.Row row, int count, boolean lossLimited) {
    int loss = 1 + count;
    int cut = lossLimited ? loss + count : loss;
    row.atMost(lossLimited ? cut + 2 + count : cut + 2);
    Double allowance = row.optional(cut, "calculator.cell.trimAllowance");
    return new CandidateRequest(
        row.text(0),
        row.numbers(1, count, "calculator.cell.phaseError"),
        lossLimited ? row.numbers(loss, count, "calculator.cell.insertionLoss") : null,
        allowance == null ? null : row.number(cut + 1, "calculator.cell.velocityFactor"),
        allowance,
        allowance != null && lossLimited
            ? row.numbers(cut + 2, count, "calculator.cell.lossPerMetre")
            : null);
  }

  private static PoolSetSum summed(
      SetAnswer set, List<LimitRequest> limits, Map<String, CandidateRequest> bySerial) {
    List<Spread> spreads = new ArrayList<>();
    List<CutSum> cuts = new ArrayList<>();
    List<String> serials = Stream.concat(set.serials().stream(), set.spares().stream()).toList();
    for (int k = 0; k < limits.size(); k++) {
      double hertz = present("frequencyHz", limits.get(k).frequencyHz());
      String high = "";
      String low = "";
      double highDeg = Double.NEGATIVE_INFINITY;
      double lowDeg = Double.POSITIVE_INFINITY;
      for (String serial : serials) {
        CandidateRequest candidate = present(serial, bySerial.get(serial));
        double error = present(serial, present(serial, candidate.phaseErrorDeg()).get(k));
        Double trimMm = set.trimMm().get(serial);
        if (trimMm != null) {
          CutSum cut = cut(candidate, serial, hertz, error, trimMm);
          cuts.add(cut);
          error = cut.afterDeg();
        }
        if (error > highDeg) {
          highDeg = error;
          high = serial;
        }
        if (error < lowDeg) {
          lowDeg = error;
          low = serial;
        }
      }
      double limit = 2 * present("toleranceDeg", limits.get(k).toleranceDeg());
      spreads.add(new Spread(hertz, high, highDeg, low, lowDeg, set.spreadDeg().get(k), limit));
    }
    return new PoolSetSum(set, spreads, cuts);
  }

  private static CutSum cut(
      CandidateRequest candidate, String serial, double hertz, double error, double trimMm) {
    @Nullable Double factor = candidate.velocityFactor();
    double slope =
        VelocityFactor.of(present(serial, factor)).degreesPerMetre(Frequency.ofHertz(hertz)) / 1e3;
    return new CutSum(serial, hertz, error, slope, trimMm, error + slope * trimMm);
  }
}
