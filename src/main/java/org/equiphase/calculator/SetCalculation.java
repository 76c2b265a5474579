package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.calculator.SetCalculationApi.AssemblyAnswer;
import org.equiphase.calculator.SetCalculationApi.AssemblyRequest;
import org.equiphase.calculator.SetCalculationApi.FrequencyRequest;
import org.equiphase.calculator.SetCalculationApi.SetAdjustmentAnswer;
import org.equiphase.calculator.SetCalculationApi.SetAdjustmentRequest;
import org.equiphase.calculator.SetCalculationApi.StretchRequest;
import org.equiphase.matching.Action;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What to cut, stretch or replace so that a set agrees in phase. */
@Component
@Order(5)
class SetCalculation implements Calculation {

  private final SetCalculationApi sets;

  SetCalculation(SetCalculationApi sets) {
    this.sets = sets;
  }

  @Override
  public String name() {
    return "set";
  }

  @Override
  public String title() {
    return "matching.set.title";
  }

  @Override
  public String about() {
    return "matching.set.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.choice(
            "basis",
            "matching.set.basis",
            "SET",
            "matching.set.basis.set",
            "NOMINAL",
            "matching.set.basis.nominal",
            "MASTER",
            "matching.set.basis.master"),
        Input.of("masterSerial", "matching.set.masterSerial", null, "").orEmpty(),
        Input.choice(
            "turns",
            "matching.set.turns",
            "ABSOLUTE",
            "matching.set.turns.absolute",
            "MODULO_360",
            "matching.set.turns.modulo360"),
        Input.of("velocityFactor", "calculator.velocityFactor", null, "0.695"),
        Input.of("aimPercent", "matching.set.aim", "%", "30").as("aimFraction"),
        Input.area("frequencies", "matching.set.frequencies", "2800; 3; 0.5"),
        Input.area(
                "members",
                "matching.set.members",
                """
                A1; -14.1; 20
                A2; -3.2; 20
                A3; 0.4; 20
                A4; 1.9; 20
                A5; 12.6; ; 0; 40""")
            .as("assemblies"));
  }

  /**
   * A member's error at one frequency, and what its adjustment makes of it.
   *
   * @param errorDeg error relative to the centre
   * @param degreesPerMm what a millimetre of trim, or of stretch, moves it by; null if untouched
   * @param turnsDeg whole turns put in where only the phase counts
   */
  record Spot(
      double frequencyHz,
      double givenDeg,
      double centerDeg,
      double errorDeg,
      @Nullable Double degreesPerMm,
      double turnsDeg,
      double afterDeg,
      boolean out) {}

  /**
   * A member of the set.
   *
   * @param lengthMm its trim or its stretch
   */
  record Member(AssemblyAnswer answer, double velocityFactor, double lengthMm, List<Spot> spots) {

    public boolean adjusted() {
      return answer.action() == Action.TRIM || answer.action() == Action.STRETCH;
    }
  }

  record Result(
      SetAdjustmentRequest request,
      SetAdjustmentAnswer answer,
      List<FrequencyRequest> frequencies,
      List<Member> members) {

    public boolean anyTrim() {
      return members.stream().anyMatch(m -> m.answer().action() == Action.TRIM);
    }

    public boolean anyAdjusted() {
      return members.stream().anyMatch(Member::adjusted);
    }
  }

  @Override
  public Result calculate(Typed typed) {
    Basis basis = typed.choice("basis", Basis.class);
    String master = typed.text("masterSerial").strip();
    Turns turns = typed.choice("turns", Turns.class);
    Double velocityFactor = typed.number("velocityFactor");
    Double aim = typed.number("aimPercent", 0.01);
    List<FrequencyRequest> frequencies =
        typed.rows("frequencies").stream().map(SetCalculation::frequency).toList();
    List<AssemblyRequest> assemblies =
        typed.rows("members").stream().map(row -> member(row, frequencies.size())).toList();
    typed.done();
    SetAdjustmentRequest request =
        new SetAdjustmentRequest(
            basis,
            master.isEmpty() ? null : master,
            turns,
            velocityFactor,
            aim,
            frequencies,
            assemblies);
    SetAdjustmentAnswer answer = sets.setAdjustment(request);
    List<Member> members = new ArrayList<>();
    for (int i = 0; i < assemblies.size(); i++) {
      members.add(summed(request, frequencies, assemblies.get(i), answer, i));
    }
    return new Result(request, answer, frequencies, members);
  }

  private static FrequencyRequest frequency(Typed.Row row) {
    row.atMost(3);
    Double guard = row.optional(2, "calculator.cell.guardBand");
    return new FrequencyRequest(
        row.number(0, "calculator.cell.frequency", 1e6),
        row.number(1, "calculator.cell.tolerance"),
        guard == null ? 0.0 : guard);
  }

  private static AssemblyRequest member(Typed.Row row, int frequencies) {
    row.atMost(frequencies + 5);
    List<@Nullable Double> errors = row.numbers(1, frequencies, "calculator.cell.phaseError");
    boolean stretcher =
        !row.text(frequencies + 2).isEmpty() || !row.text(frequencies + 3).isEmpty();
    return new AssemblyRequest(
        row.text(0),
        row.optional(frequencies + 4, "calculator.cell.velocityFactor"),
        errors,
        stretcher
            ? row.optional(frequencies + 1, "calculator.cell.trimAllowance")
            : row.number(frequencies + 1, "calculator.cell.trimAllowance"),
        stretcher
            ? new StretchRequest(
                row.number(frequencies + 2, "calculator.cell.stretcherFrom"),
                row.number(frequencies + 3, "calculator.cell.stretcherTo"))
            : null);
  }

  private static Member summed(
      SetAdjustmentRequest request,
      List<FrequencyRequest> frequencies,
      AssemblyRequest assembly,
      SetAdjustmentAnswer answer,
      int index) {
    AssemblyAnswer plan = answer.assemblies().get(index);
    Double own = assembly.velocityFactor();
    double factor = own == null ? present("velocityFactor", request.velocityFactor()) : own;
    double lengthMm = plan.action() == Action.STRETCH ? plan.stretchMm() : plan.trimMm();
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < frequencies.size(); k++) {
      FrequencyRequest limit = frequencies.get(k);
      Frequency frequency = Frequency.ofHertz(present("frequencyHz", limit.frequencyHz()));
      Double slope =
          switch (plan.action()) {
            case TRIM -> VelocityFactor.of(factor).degreesPerMetre(frequency) / 1e3;
            case STRETCH -> -VelocityFactor.VACUUM.degreesPerMetre(frequency) / 1e3;
            case NONE, REPLACE -> null;
          };
      double given = present("phaseErrorDeg", present("errors", assembly.phaseErrorDeg()).get(k));
      double center = answer.centerDeg().get(k);
      double after = plan.predictedErrorDeg().get(k);
      double straight = given - center + (slope == null ? 0 : slope * lengthMm);
      double acceptance =
          present("toleranceDeg", limit.toleranceDeg()) - present("guardDeg", limit.guardDeg());
      spots.add(
          new Spot(
              frequency.hertz(),
              given,
              center,
              given - center,
              slope,
              360 * Math.rint((after - straight) / 360),
              after,
              Math.abs(after) > acceptance + 1e-9));
    }
    return new Member(plan, factor, lengthMm, spots);
  }
}
