package org.equiphase.catalog;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.web.Sentence;
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
        Field.text(HOST, key("host"), key("host.hint")),
        number(PORT),
        number(CONNECT),
        number(ANSWER),
        number(SWEEP),
        number(OHM),
        Field.table(COMMANDS, key("commands"), key("commands.hint")));
  }

  private static Field number(String name) {
    String field = name.substring(ScpiConnections.FIELD.length() + 1);
    return Field.number(name, key(field), key(field + ".hint"));
  }

  private static String key(String field) {
    return "capture." + field;
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
    texts.put(CONNECT, List.of(NumberText.typed(connection.connectTimeoutS())));
    texts.put(ANSWER, List.of(NumberText.typed(connection.answerTimeoutS())));
    texts.put(SWEEP, List.of(NumberText.typed(connection.sweepTimeoutS())));
    texts.put(OHM, List.of(NumberText.typed(connection.referenceOhm())));
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
            .add(COMMANDS, Sentence.of("capture.noStep", name, Arrays.toString(ScpiStep.values())));
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
