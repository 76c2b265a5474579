package org.equiphase.workorder;

import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.Sentence;

/**
 * An order that was typed, with the lines its parts stand on, so that what is wrong with a part can
 * be told by its line.
 *
 * @param positionLines per set, per position
 */
record TypedOrder(
    OrderDraft draft,
    List<List<Integer>> positionLines,
    List<Integer> poolLines,
    List<Integer> frequencyLines) {

  private static final String IN_SPECIFICATION = "specification.";
  private static final Pattern FREQUENCY = Pattern.compile("frequencies\\[(\\d+)]\\.(\\w+)");
  private static final Pattern POSITION =
      Pattern.compile("sets\\[(\\d+)](?:\\.positions\\[(\\d+)])?\\.(\\w+)");
  private static final Pattern POOL = Pattern.compile("poolSerials\\[(\\d+)]");

  /** What the columns of typed lines are called. */
  private static final Map<String, String> COLUMNS =
      Map.of(
          "frequencyHz", "frequencyMhz",
          "toleranceDeg", "tolerance",
          "insertionLossLimitDb", "insertionLoss",
          "insertionLossSpreadDb", "lossSpread",
          "nominalPhaseDeg", "nominalPhase",
          "offsetPhaseDeg", "offsetDeg",
          "offsetDelayPs", "offsetPs",
          "name", "set",
          "positions", "set",
          "masterSerial", "master");

  record PoolSerial(String serial, int line) {}

  /** The same problem, its field named as it was typed: {@code positions.3.serial}. */
  FieldProblem placed(FieldProblem problem) {
    String field = problem.field();
    if (field.startsWith(IN_SPECIFICATION)) {
      field = field.substring(IN_SPECIFICATION.length());
    }
    Matcher frequency = FREQUENCY.matcher(field);
    Matcher position = POSITION.matcher(field);
    Matcher inPool = POOL.matcher(field);
    if (frequency.matches()) {
      int line = frequencyLines.get(Integer.parseInt(frequency.group(1)));
      field = "frequencies." + line + "." + column(frequency.group(2));
    } else if (position.matches()) {
      List<Integer> lines = positionLines.get(Integer.parseInt(position.group(1)));
      String at = position.group(2);
      int line = lines.get(at == null ? 0 : Integer.parseInt(at));
      field = "positions." + line + "." + column(position.group(3));
    } else if (inPool.matches()) {
      field = "pool." + poolLines.get(Integer.parseInt(inPool.group(1))) + ".serial";
    } else if (field.equals("tooShortLimit")) {
      field = "tooShortPercent";
    } else if (field.equals("aimFraction")) {
      field = "aimPercent";
    }
    return new FieldProblem(field, problem.message());
  }

  private static String column(String field) {
    return COLUMNS.getOrDefault(field, field);
  }

  /** A problem of a typed line says where it stands; other fields go by their names. */
  static Sentence said(FieldProblem problem) {
    String[] place = problem.field().split("\\.", 3);
    return place.length == 3 && place[1].matches("\\d+")
        ? Sentence.of(
            "order.line." + place[0],
            place[1],
            Sentence.of("order.cell." + place[2]),
            problem.message())
        : Sentence.of("order.problem", problem.field(), problem.message());
  }
}
