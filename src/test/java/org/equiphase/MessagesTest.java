package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.equiphase.account.Role;
import org.equiphase.account.TokenScope;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.workorder.AssemblyState;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** All text stands in message bundles, in every language, and all of it is used. */
class MessagesTest {

  /** Templates whose text still stands in them. */
  private static final List<String> NOT_YET = List.of();

  private static final Path MESSAGES = Path.of("src/main/resources/messages");
  private static final Path TEMPLATES = Path.of("src/main/resources/templates");
  private static final Path JAVA = Path.of("src/main/java");

  private static final List<Class<? extends Enum<?>>> TERMS =
      List.of(
          AssemblyState.class,
          Role.class,
          TokenScope.class,
          Basis.class,
          Turns.class,
          Method.class);

  private static final Pattern KEY_IN_TEMPLATE =
      Pattern.compile("#\\{([a-z][\\w.-]*)[(}]|#messages\\.msg\\('([\\w.-]+)'");
  private static final Pattern PREFIX_IN_TEMPLATE =
      Pattern.compile(
          "#\\{\\|([a-z][\\w.-]*\\.)\\$|#\\{\\$\\{'([\\w.-]+\\.)'|msg\\('([\\w.-]+\\.)'");
  private static final Pattern ARGUMENT = Pattern.compile("\\{\\d");
  private static final Pattern LITERAL = Pattern.compile("\"((?:[^\"\\\\]|\\\\.)*)\"");
  private static final Pattern KEY = Pattern.compile("[a-z]\\w*(\\.[\\w-]+)+");
  private static final Pattern PREFIX = Pattern.compile("[a-z]\\w*(\\.[\\w-]+)*\\.");
  private static final Pattern SAID = Pattern.compile("Sentence\\.of\\(\\s*\"([^\"]+)\"\\s*[,)]");
  private static final Pattern NOT_FOUND =
      Pattern.compile("(?:\\bNotFoundException\\(|\\.kind\\()\\s*\"([^\"]+)\"");

  static Stream<String> rooms() {
    return files(MESSAGES, ".properties")
        .map(file -> file.getFileName().toString().replace(".properties", ""))
        .filter(name -> !name.endsWith("_de"));
  }

  @ParameterizedTest
  @MethodSource("rooms")
  void saysTheSameInGerman(String room) {
    Map<String, String> english = bundle(room + ".properties");
    Map<String, String> german = bundle(room + "_de.properties");
    assertThat(german.keySet()).isEqualTo(english.keySet());
    english.forEach(
        (key, message) -> {
          assertThat(key).startsWith(room + ".");
          assertThat(arguments(german.getOrDefault(key, ""))).as(key).isEqualTo(arguments(message));
        });
  }

  /** MessageFormat takes an apostrophe for a quote, but only where there are arguments. */
  @ParameterizedTest
  @MethodSource("rooms")
  void doublesTheApostropheOnlyWhereThereAreArguments(String room) {
    for (String file : List.of(room + ".properties", room + "_de.properties")) {
      bundle(file)
          .forEach(
              (key, message) -> {
                boolean single = message.replace("''", "").contains("'");
                boolean doubled = message.contains("''");
                assertThat(hasArguments(message) ? single : doubled).as(file + " " + key).isFalse();
              });
    }
  }

  @Test
  void everyKeyThatIsUsedIsThere() {
    Set<String> keys = keys();
    Set<String> used = new TreeSet<>();
    files(TEMPLATES, ".html", ".xml")
        .forEach(file -> used.addAll(groups(KEY_IN_TEMPLATE, read(file))));
    files(JAVA, ".java")
        .forEach(
            file -> {
              String code = read(file);
              used.addAll(groups(SAID, code));
              groups(NOT_FOUND, code)
                  .forEach(kind -> used.add("term.kind." + kind.replace(' ', '-')));
            });
    TERMS.forEach(type -> used.addAll(keysOf(type)));
    assertThat(used).hasSizeGreaterThan(300);
    used.removeIf(key -> key.endsWith("."));
    used.removeAll(keys);
    assertThat(used).isEmpty();
  }

  @Test
  void everyKeyIsUsed() {
    Set<String> literals = new TreeSet<>();
    Set<String> prefixes = new TreeSet<>();
    files(TEMPLATES, ".html", ".xml")
        .map(MessagesTest::read)
        .forEach(
            template -> {
              literals.addAll(groups(KEY_IN_TEMPLATE, template));
              prefixes.addAll(groups(PREFIX_IN_TEMPLATE, template));
            });
    Set<String> words = new TreeSet<>();
    files(JAVA, ".java")
        .forEach(
            file ->
                groups(LITERAL, read(file))
                    .forEach(
                        literal -> {
                          words.add(literal);
                          if (KEY.matcher(literal).matches()) {
                            literals.add(literal);
                          } else if (PREFIX.matcher(literal).matches()) {
                            prefixes.add(literal);
                          }
                        }));
    prefixes.removeAll(Set.of("term.", "term.kind."));
    TERMS.forEach(type -> literals.addAll(keysOf(type)));
    words.forEach(word -> literals.add("term.kind." + word.replace(' ', '-')));
    assertThat(
            keys().stream()
                .filter(key -> !literals.contains(key))
                .filter(key -> prefixes.stream().noneMatch(key::startsWith)))
        .isEmpty();
  }

  static Stream<Path> templates() {
    return files(TEMPLATES, ".html", ".xml")
        .filter(
            file -> {
              String name = TEMPLATES.relativize(file).toString().replace('\\', '/');
              return NOT_YET.stream().noneMatch(name::startsWith);
            });
  }

  @ParameterizedTest
  @MethodSource("templates")
  void templatesHoldNoTextOfTheirOwn(Path template) {
    assertThat(TemplateTexts.in(template)).isEmpty();
  }

  /** So that the finder itself can't go blind. */
  @Test
  void theFinderSeesText(@TempDir Path folder) throws IOException {
    Path template = folder.resolve("probe.html");
    Files.writeString(
        template,
        """
        <p>A plain text</p>
        <p th:text="#{a.key}">A prototype</p>
        <p th:text="${set ? 'A quoted text' : 'b'}"></p>
        <p th:text="|${n} texts in bars|"></p>
        <p th:text="${kind == 'COMPARED'}"></p>
        <input placeholder="a placeholder" name="field">
        <input placeholder="a prototype" th:placeholder="#{a.key}">
        <div th:replace="~{web/parts :: field('name', 'A label', ${x})}"></div>
        <p>2.8 GHz [[${x ? 'an inlined text' : ''}]]</p>
        """);
    assertThat(TemplateTexts.in(template).stream().map(found -> found.replaceFirst(".*: ", "")))
        .containsExactly(
            "A plain text",
            "A quoted text",
            "_ texts in bars",
            "a placeholder",
            "A label",
            "an inlined text");
  }

  private static List<String> keysOf(Class<? extends Enum<?>> type) {
    return Arrays.stream(type.getEnumConstants())
        .map(value -> "term." + type.getSimpleName() + "." + value.name())
        .toList();
  }

  private static int arguments(String message) {
    return hasArguments(message)
        ? new MessageFormat(message, Locale.ROOT).getFormatsByArgumentIndex().length
        : 0;
  }

  /** Without any, a message is shown as it stands, braces and all. */
  private static boolean hasArguments(String message) {
    return ARGUMENT.matcher(message).find();
  }

  private static Set<String> keys() {
    return rooms()
        .flatMap(room -> bundle(room + ".properties").keySet().stream())
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static Map<String, String> bundle(String file) {
    Properties properties = new Properties();
    try (Reader reader = Files.newBufferedReader(MESSAGES.resolve(file))) {
      properties.load(reader);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    Map<String, String> messages = new TreeMap<>();
    properties.stringPropertyNames().forEach(key -> messages.put(key, properties.getProperty(key)));
    return messages;
  }

  private static List<String> groups(Pattern pattern, String text) {
    List<String> found = new ArrayList<>();
    Matcher matcher = pattern.matcher(text);
    while (matcher.find()) {
      for (int group = 1; group <= matcher.groupCount(); group++) {
        if (matcher.group(group) != null) {
          found.add(matcher.group(group));
        }
      }
    }
    return found;
  }

  private static Stream<Path> files(Path folder, String... endings) {
    try (Stream<Path> all = Files.walk(folder)) {
      return all
          .filter(file -> Arrays.stream(endings).anyMatch(file.toString()::endsWith))
          .sorted()
          .toList()
          .stream();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
