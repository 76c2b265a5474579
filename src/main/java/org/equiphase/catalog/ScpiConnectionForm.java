package org.equiphase.catalog;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** The fields of an instrument's connection; without a host there is none. */
final class ScpiConnectionForm {

  private static final String HOST = ScpiConnections.FIELD + ".host";
  private static final String PORT = ScpiConnections.FIELD + ".port";
  private static final String CONNECT = ScpiConnections.FIELD + ".connectTimeoutS";
  private static final String ANSWER = ScpiConnections.FIELD + ".answerTimeoutS";
  private static final String SWEEP = ScpiConnections.FIELD + ".sweepTimeoutS";
  private static final String OHM = ScpiConnections.FIELD + ".referenceOhm";
  private static final String COMMANDS = ScpiConnections.FIELD + ".commands";

  private ScpiConnectionForm() {}

  static List<Field> fields() {
    return List.of(
        Field.text(HOST, "Capture: host", "name or address on the network; blank captures nothing"),
        Field.number(PORT, "Capture: port", "blank takes 5025, the port registered for SCPI"),
        Field.number(CONNECT, "Capture: time to connect (s)", "blank takes 3"),
        Field.number(ANSWER, "Capture: time for an answer (s)", "blank takes 5"),
        Field.number(SWEEP, "Capture: time for a sweep (s)", "blank takes 60"),
        Field.number(OHM, "Capture: reference resistance (Ω)", "blank takes 50"),
        Field.table(
            COMMANDS,
            "Capture: commands",
            "One step a line: its name, then what this instrument calls it; the name alone leaves the step out, a missing line takes the usual command. {parameter} stands for S21 or S11. The instrument must be set and calibrated by hand: a reset (*RST) would undo that and is refused."));
  }

  static Map<String, List<String>> blank() {
    return Map.of(COMMANDS, List.of(lines(usualCommands())));
  }

  static Map<String, List<String>> texts(@Nullable ScpiConnection connection) {
    if (connection == null) {
      return blank();
    }
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put(HOST, List.of(connection.host()));
    texts.put(PORT, List.of("" + connection.port()));
    texts.put(CONNECT, List.of(NumberText.plain(connection.connectTimeoutS())));
    texts.put(ANSWER, List.of(NumberText.plain(connection.answerTimeoutS())));
    texts.put(SWEEP, List.of(NumberText.plain(connection.sweepTimeoutS())));
    texts.put(OHM, List.of(NumberText.plain(connection.referenceOhm())));
    texts.put(COMMANDS, List.of(lines(connection.commands())));
    return texts;
  }

  static @Nullable ScpiConnection read(FormReader form) {
    if (form.text(HOST).isEmpty()) {
      return null;
    }
    return new ScpiConnectionBody(
            form.text(HOST),
            form.text(PORT).isEmpty() ? null : form.whole(PORT),
            form.optionalNumber(CONNECT),
            form.optionalNumber(ANSWER),
            form.optionalNumber(SWEEP),
            form.optionalNumber(OHM),
            commands(form))
        .draft(form.problems());
  }

  private static Map<ScpiStep, @Nullable String> commands(FormReader form) {
    Map<ScpiStep, @Nullable String> commands = new EnumMap<>(ScpiStep.class);
    for (String line : form.text(COMMANDS).lines().map(String::strip).toList()) {
      String name = line.split("\\s+", 2)[0];
      ScpiStep step =
          Arrays.stream(ScpiStep.values())
              .filter(each -> each.name().equalsIgnoreCase(name))
              .findFirst()
              .orElse(null);
      if (step != null) {
        commands.put(step, line.substring(name.length()).strip());
      } else if (!line.isEmpty()) {
        form.problems()
            .add(
                COMMANDS,
                "“%s” is no step; begin each line with one of %s"
                    .formatted(name, Arrays.toString(ScpiStep.values())));
      }
    }
    return commands;
  }

  private static Map<ScpiStep, String> usualCommands() {
    return ScpiConnection.usual("", ScpiConnection.USUAL_PORT).commands();
  }

  private static String lines(Map<ScpiStep, String> commands) {
    return commands.entrySet().stream()
        .map(each -> (each.getKey() + " " + each.getValue()).strip())
        .collect(Collectors.joining("\n"));
  }
}
