package org.equiphase.gauge;

import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.equiphase.web.Checks;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A study as it is asked for; without a seed the service takes one. */
record StudyDraft(
    @Nullable String name,
    @Nullable Long benchId,
    @Nullable Double frequencyHz,
    @Nullable Double toleranceWidthDeg,
    @Nullable Integer trials,
    @Nullable Long seed,
    @Nullable List<String> parts,
    @Nullable List<String> appraisers) {

  void check() {
    Checks checks = new Checks().text("name", name, 100);
    if (benchId == null) {
      checks.problem("benchId", Sentence.of("problem.missingInRequest"));
    }
    checks.positive("frequencyHz", Objects.requireNonNullElse(frequencyHz, 0.0), 1e12);
    checks.positive("toleranceWidthDeg", Objects.requireNonNullElse(toleranceWidthDeg, 0.0), 360);
    checks.inRange("trials", Objects.requireNonNullElse(trials, 0), 2, 10);
    several(checks, "parts", parts, 50);
    several(checks, "appraisers", appraisers, 10);
    checks.done();
  }

  private static void several(
      Checks checks, String field, @Nullable List<String> values, int most) {
    List<String> given = values == null ? List.of() : values;
    Set<String> different = new HashSet<>(given);
    if (different.size() < 2 || different.size() > most || different.size() != given.size()) {
      checks.problem(field, Sentence.of("gauge.several", given.size(), 2, most));
    }
  }
}
