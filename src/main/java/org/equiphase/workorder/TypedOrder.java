package org.equiphase.workorder;

import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.equiphase.web.FieldProblem;

/**
 * An order that was typed, with the lines its parts stand on, so that what is wrong with a part can
 * be told by its line.
 *
 * @param positionLines per set, per position
 * @param unread what could not be read; the draft has something harmless in its place
 */
record TypedOrder(
    OrderDraft draft,
    List<List<Integer>> positionLines,
    List<Integer> poolLines,
    List<Integer> frequencyLines,
    List<FieldProblem> unread) {

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

  private static final Set<String> HANG_ON_LENGTH =
      Set.of("trimAllowanceMm", "connectorElectricalMm");
  private static final List<String> LISTS = List.of("frequencies", "temperature");

  record PoolSerial(String serial, int line) {}

  /**
   * All that is wrong with it, by the names of what was typed: what can't be read, and what can be
   * but won't do. What only seems wrong for want of an unread value is left out.
   */
  List<FieldProblem> problems(WorkOrders workOrders) {
    return Stream.concat(
            unread.stream(),
            workOrders.problems(draft).stream()
                .map(this::placed)
                .filter(problem -> !hangsOnUnread(problem.field())))
        .toList();
  }

  private boolean hangsOnUnread(String field) {
    if (unread.isEmpty()) {
      return false;
    }
    Set<String> fields = unread.stream().map(FieldProblem::field).collect(Collectors.toSet());
    return fields.contains(field)
        || field.equals("sets")
        || (HANG_ON_LENGTH.contains(field) && fields.contains("nominalLengthMm"))
        || LISTS.stream()
            .anyMatch(l -> field.startsWith(l) && fields.stream().anyMatch(f -> f.startsWith(l)))
        || (field.endsWith(".serial") && fields.contains("serialPattern"));
  }

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
}
