package org.equiphase.workorder;

import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.Sentence;

/**
 * What is wrong with a form, by the words that its page has: all of it at the head of the page, and
 * what concerns a field once more beside it.
 */
record FormProblems(List<Shown> all, Map<String, Sentence> beside) {

  /** In the order in which the page asks for them. */
  private static final List<String> FIELDS =
      Arrays.stream(OrderForm.class.getRecordComponents()).map(RecordComponent::getName).toList();

  static final FormProblems NONE = new FormProblems(List.of(), Map.of());

  /**
   * A problem.
   *
   * @param field name of the field on the page; empty where it concerns none
   */
  record Shown(String field, Sentence words) {}

  FormProblems {
    all = List.copyOf(all);
    beside = Map.copyOf(beside);
  }

  /** What concerns no field. */
  static FormProblems of(Sentence words) {
    return new FormProblems(List.of(new Shown("", words)), Map.of());
  }

  /**
   * @param problems by the names of the form: {@code title}, or {@code positions.3.serial} for what
   *     stands on a line
   */
  static FormProblems of(List<FieldProblem> problems) {
    Map<String, Sentence> beside = new LinkedHashMap<>();
    List<Shown> all =
        problems.stream()
            .map(
                problem -> {
                  String[] place = problem.field().split("\\.", 3);
                  // The sets of an order are typed as its positions.
                  String field = place[0].equals("sets") ? "positions" : place[0];
                  Sentence there =
                      place.length < 3
                          ? problem.message()
                          : Sentence.of("order.inLine", place[1], cell(place), problem.message());
                  beside.merge(field, there, (one, next) -> Sentence.of("problem.and", one, next));
                  return new Shown(
                      field,
                      place.length < 3
                          ? Sentence.of(
                              "order.problem",
                              Sentence.of("order.label." + field),
                              problem.message())
                          : Sentence.of(
                              "order.line." + place[0], place[1], cell(place), problem.message()));
                })
            .sorted(Comparator.comparing(shown -> FIELDS.indexOf(shown.field())))
            .toList();
    return new FormProblems(all, beside);
  }

  private static Sentence cell(String[] place) {
    return Sentence.of("order.cell." + place[2]);
  }
}
