package org.equiphase.traveler;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.equiphase.web.Checks;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A route as it is asked for. */
public record RouteDraft(@Nullable String name, @Nullable List<StepDraft> steps) {

  private static final int LONGEST_NAME = 60;
  private static final int LONGEST_INSTRUCTION = 200;

  /** As many as still fit one sheet of paper. */
  private static final int MOST_STEPS = 15;

  /**
   * A step as it is asked for.
   *
   * @param number of the step that it was; null for a new one
   */
  public record StepDraft(
      @Nullable Long number,
      @Nullable StepKind kind,
      @Nullable String instruction,
      @Nullable Boolean asksValue) {

    String words() {
      return instruction == null ? "" : instruction.strip();
    }

    boolean asks() {
      return Boolean.TRUE.equals(asksValue);
    }
  }

  List<StepDraft> given() {
    return steps == null ? List.of() : steps;
  }

  /** Refuses what is no way through the shop. */
  void check() {
    Checks checks = new Checks().text("name", name, LONGEST_NAME);
    if (given().isEmpty() || given().size() > MOST_STEPS) {
      checks.problem("steps", Sentence.of("traveler.route.stepCount", given().size(), MOST_STEPS));
    }
    Set<StepKind> before = EnumSet.noneOf(StepKind.class);
    List<Long> numbers = new ArrayList<>();
    for (int i = 0; i < given().size(); i++) {
      StepDraft step = given().get(i);
      String at = "steps[" + i + "].";
      if (step.words().length() > LONGEST_INSTRUCTION) {
        checks.problem(
            at + "instruction",
            Sentence.of("problem.textTooLong", step.words().length(), LONGEST_INSTRUCTION));
      }
      if (step.number() != null && numbers.contains(step.number())) {
        checks.problem(
            at + "number", Sentence.of("traveler.route.numberTwice", step.number() + ""));
      }
      if (step.number() != null) {
        numbers.add(step.number());
      }
      kind(checks, at + "kind", step.kind(), before);
    }
    checks.done();
  }

  private static void kind(
      Checks checks, String field, @Nullable StepKind kind, Set<StepKind> before) {
    if (kind == null) {
      checks.problem(field, Sentence.of("problem.missingInRequest"));
      return;
    }
    if (kind.isKnown() && before.contains(kind)) {
      checks.problem(field, Sentence.of("traveler.route.onceOnly", kind.title()));
    }
    StepKind first =
        switch (kind) {
          case TRIM -> StepKind.MEASURE;
          case REMEASURE -> StepKind.TRIM;
          default -> null;
        };
    if (first != null && !before.contains(first)) {
      checks.problem(field, Sentence.of("traveler.route.onlyAfter", kind.title(), first.title()));
    }
    before.add(kind);
  }
}
