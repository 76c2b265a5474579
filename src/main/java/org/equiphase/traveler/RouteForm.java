package org.equiphase.traveler;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.traveler.RouteDraft.StepDraft;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.util.MultiValueMap;

/** A route as it is typed; its lines keep their order on the page when something is refused. */
public record RouteForm(String name, List<Line> lines) {

  private static final int BLANK_LINES = 3;

  public RouteForm {
    lines = List.copyOf(lines);
  }

  /** A line; without a kind it is no step. */
  public record Line(
      String place, String number, String kind, String instruction, boolean asksValue) {

    static final Line BLANK = new Line("", "", "", "", false);
  }

  static RouteForm blank() {
    return new RouteForm("", List.of()).withBlankLines();
  }

  static RouteForm of(Route route) {
    List<Line> lines = new ArrayList<>();
    for (Route.RouteStep step : route.steps()) {
      lines.add(
          new Line(
              "" + (lines.size() + 1),
              "" + step.number(),
              step.kind().name(),
              step.instruction(),
              step.asksValue()));
    }
    return new RouteForm(route.name(), lines).withBlankLines();
  }

  /** From the request's own values: a comma in an instruction is no separator. */
  static RouteForm of(MultiValueMap<String, String> typed) {
    List<String> asked = typed.getOrDefault("asksValue", List.of());
    List<Line> lines = new ArrayList<>();
    int count = typed.getOrDefault("kind", List.of()).size();
    for (int i = 0; i < count; i++) {
      lines.add(
          new Line(
              at(typed, "place", i),
              at(typed, "number", i),
              at(typed, "kind", i),
              at(typed, "instruction", i),
              asked.contains("" + i)));
    }
    String name = typed.getFirst("name");
    return new RouteForm(name == null ? "" : name, lines);
  }

  private static String at(MultiValueMap<String, String> typed, String field, int i) {
    List<String> values = typed.getOrDefault(field, List.of());
    return i < values.size() ? values.get(i) : "";
  }

  private RouteForm withBlankLines() {
    List<Line> all = new ArrayList<>(lines);
    for (int i = 0; i < BLANK_LINES; i++) {
      all.add(Line.BLANK);
    }
    return new RouteForm(name, all);
  }

  /** Which line of the page each step of the draft stands in. */
  private List<Integer> used() {
    Map<Integer, Double> places = new LinkedHashMap<>();
    for (int i = 0; i < lines.size(); i++) {
      if (!lines.get(i).kind().isBlank()) {
        Double place = Numbers.readOptional("place", lines.get(i).place());
        places.put(i, place == null ? Double.MAX_VALUE : place);
      }
    }
    return places.entrySet().stream()
        .sorted(Map.Entry.comparingByValue(Comparator.naturalOrder()))
        .map(Map.Entry::getKey)
        .toList();
  }

  RouteDraft read() {
    return new RouteDraft(
        name,
        used().stream()
            .map(lines::get)
            .map(
                line ->
                    new StepDraft(
                        number(line.number()),
                        kind(line.kind()),
                        line.instruction(),
                        line.asksValue()))
            .toList());
  }

  private static @Nullable Long number(String text) {
    try {
      return text.isBlank() ? null : Long.valueOf(text);
    } catch (NumberFormatException e) {
      throw InvalidInputException.of("number", Sentence.of("traveler.route.noNumber", text));
    }
  }

  private static StepKind kind(String text) {
    try {
      return StepKind.valueOf(text);
    } catch (IllegalArgumentException e) {
      throw InvalidInputException.of("kind", Sentence.of("traveler.route.noKind", text));
    }
  }

  /** A refusal's messages; those of a step name the line that it stands in. */
  List<Sentence> said(InvalidInputException refusal) {
    return refusal.problems().stream()
        .map(
            problem -> {
              String field = problem.field();
              if (!field.startsWith("steps[")) {
                return Sentence.of("traveler.route.problem", fieldName(field), problem.message());
              }
              int step = Integer.parseInt(field.replaceAll("\\D", ""));
              return Sentence.of(
                  "traveler.route.problemInLine",
                  used().get(step) + 1,
                  fieldName(field.replaceFirst(".*\\.", "")),
                  problem.message());
            })
        .toList();
  }

  private static Sentence fieldName(String field) {
    return Sentence.of("traveler.route.field." + field);
  }
}
