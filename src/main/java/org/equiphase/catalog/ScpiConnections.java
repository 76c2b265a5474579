package org.equiphase.catalog;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** The connections of instruments: what is wrong with a drafted one, and their tables. */
final class ScpiConnections {

  static final String FIELD = "connection";

  private static final String TABLE = "instrument_scpi";
  private static final String COMMANDS = "instrument_scpi_command";
  private static final String OWNER = "instrument_id";
  private static final int LONGEST_COMMAND = 200;
  private static final Pattern HOST =
      Pattern.compile(
          "[A-Za-z0-9]([A-Za-z0-9._-]{0,251}[A-Za-z0-9])?|[0-9A-Fa-f:.]*:[0-9A-Fa-f:.]*");

  /** Both undo the calibration that every reading rests on. */
  private static final Pattern RESET =
      Pattern.compile("(^|[;:\\s])(\\*RST|SYST(EM)?:PRES(ET)?)\\b", Pattern.CASE_INSENSITIVE);

  private ScpiConnections() {}

  static void check(ScpiConnection draft, DraftProblems problems) {
    String host = draft.host();
    if (!HOST.matcher(host).matches()) {
      problems.add(FIELD + ".host", Sentence.of("capture.noHost", host));
    }
    problems.range(FIELD + ".port", draft.port(), 1, 65535, "");
    problems.range(FIELD + ".connectTimeoutS", draft.connectTimeoutS(), 0.1, 600, "s");
    problems.range(FIELD + ".answerTimeoutS", draft.answerTimeoutS(), 0.1, 600, "s");
    problems.range(FIELD + ".sweepTimeoutS", draft.sweepTimeoutS(), 0.1, 600, "s");
    problems.range(FIELD + ".referenceOhm", draft.referenceOhm(), 1, 1000, "Ω");
    for (ScpiStep step : ScpiStep.values()) {
      problem(draft, step)
          .ifPresent(
              problem ->
                  problems.add(
                      FIELD + ".commands", Sentence.of("capture.step", step.name(), problem)));
    }
  }

  private static Optional<Sentence> problem(ScpiConnection draft, ScpiStep step) {
    String command = draft.command(step);
    Sentence problem = null;
    if (command.isEmpty()) {
      problem = step.isNeeded() ? Sentence.of("capture.stepLeftOut") : null;
    } else if (command.length() > LONGEST_COMMAND) {
      problem = Sentence.of("capture.stepTooLong", command.length(), LONGEST_COMMAND);
    } else if (!command.chars().allMatch(c -> c >= ' ' && c <= '~')) {
      problem = Sentence.of("capture.stepNotAscii", command);
    } else if (RESET.matcher(command).find()) {
      problem = Sentence.of("capture.stepResets", command);
    } else if (step.isQuery() != command.contains("?")) {
      problem =
          Sentence.of(step.isQuery() ? "capture.stepAsksNothing" : "capture.stepAsks", command);
    } else if (step == ScpiStep.DATA && !namesParameter(draft)) {
      problem = Sentence.of("capture.stepParameter", ScpiConnection.PARAMETER);
    }
    return Optional.ofNullable(problem);
  }

  private static boolean namesParameter(ScpiConnection draft) {
    return draft.command(ScpiStep.SELECT).contains(ScpiConnection.PARAMETER)
        || draft.command(ScpiStep.DATA).contains(ScpiConnection.PARAMETER);
  }

  /** All of it as one text for the audit. */
  static String details(@Nullable ScpiConnection connection) {
    return connection == null
        ? ""
        : "%s:%d, %s s to connect, %s s to answer, %s s to sweep, %s Ω; %s"
            .formatted(
                connection.host(),
                connection.port(),
                NumberText.plain(connection.connectTimeoutS()),
                NumberText.plain(connection.answerTimeoutS()),
                NumberText.plain(connection.sweepTimeoutS()),
                NumberText.plain(connection.referenceOhm()),
                connection.commands().entrySet().stream()
                    .map(step -> step.getKey() + " " + step.getValue())
                    .collect(Collectors.joining(" | ")));
  }

  static void write(Shelf<Instrument> shelf, long id, @Nullable ScpiConnection connection) {
    shelf.clearChildren(COMMANDS, OWNER, id);
    shelf.clearChildren(TABLE, OWNER, id);
    if (connection == null) {
      return;
    }
    shelf
        .jdbc()
        .sql(
            """
            insert into instrument_scpi (instrument_id, host, port, connect_timeout_s,
              answer_timeout_s, sweep_timeout_s, reference_ohm)
            values (?, ?, ?, ?, ?, ?, ?)
            """)
        .param(id)
        .param(connection.host())
        .param(connection.port())
        .param(connection.connectTimeoutS())
        .param(connection.answerTimeoutS())
        .param(connection.sweepTimeoutS())
        .param(connection.referenceOhm())
        .update();
    connection
        .commands()
        .forEach(
            (step, command) ->
                shelf
                    .jdbc()
                    .sql(
                        "insert into instrument_scpi_command (instrument_id, step, command) values (?, ?, ?)")
                    .param(id)
                    .param(step.name())
                    .param(command)
                    .update());
  }

  /** Locks the rows of an address; false where another transaction has one of them. */
  static boolean take(Shelf<Instrument> shelf, ScpiConnection connection) {
    String rows =
        "select instrument_id from instrument_scpi where lower(host) = lower(?) and port = ?";
    return ids(shelf, rows + " for update skip locked", connection).size()
        == ids(shelf, rows, connection).size();
  }

  private static List<Long> ids(Shelf<Instrument> shelf, String sql, ScpiConnection connection) {
    return shelf
        .jdbc()
        .sql(sql)
        .param(connection.host())
        .param(connection.port())
        .query(Long.class)
        .list();
  }

  static Map<Long, List<ScpiConnection>> read(Shelf<Instrument> shelf, @Nullable Long onlyId) {
    record Command(ScpiStep step, String text) {}
    Map<Long, List<Command>> commands =
        shelf.children(
            COMMANDS,
            OWNER,
            "step",
            onlyId,
            (row, i) ->
                new Command(ScpiStep.valueOf(row.getString("step")), row.getString("command")));
    return shelf.children(
        TABLE,
        OWNER,
        OWNER,
        onlyId,
        (row, i) -> {
          Map<ScpiStep, String> byStep = new EnumMap<>(ScpiStep.class);
          commands
              .getOrDefault(row.getLong(OWNER), List.of())
              .forEach(command -> byStep.put(command.step(), command.text()));
          return new ScpiConnection(
              row.getString("host"),
              row.getInt("port"),
              row.getDouble("connect_timeout_s"),
              row.getDouble("answer_timeout_s"),
              row.getDouble("sweep_timeout_s"),
              row.getDouble("reference_ohm"),
              byStep);
        });
  }
}
