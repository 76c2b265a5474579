package org.equiphase;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.attoparser.ParseException;
import org.attoparser.config.ParseConfiguration;
import org.attoparser.simple.AbstractSimpleMarkupHandler;
import org.attoparser.simple.SimpleMarkupParser;
import org.jspecify.annotations.Nullable;

/** Finds words in a template that would be shown as they stand there, in whatever language. */
final class TemplateTexts extends AbstractSimpleMarkupHandler {

  /** Units, symbols and names, the same in every language. */
  private static final Set<String> SAME_EVERYWHERE =
      Set.of(
          "Equiphase",
          "EQ",
          "GHz",
          "MHz",
          "Hz",
          "kHz",
          "mm",
          "cm",
          "in",
          "ns",
          "ps",
          "ms",
          "min",
          "dB",
          "deg",
          "ppm",
          "GRR",
          "PDF",
          "XLSX",
          "CSV",
          "QA",
          "VSWR",
          "TRL",
          "SOLT",
          "nbsp",
          "times",
          "middot",
          "minus",
          "thinsp",
          "ohm",
          "std",
          "sqrt",
          "exp",
          "cos",
          "sin",
          "tan");

  private static final Set<String> SHOWN_ATTRIBUTES =
      Set.of("aria-label", "placeholder", "title", "alt");

  private static final Pattern WORD = Pattern.compile("\\p{L}{2,}");
  private static final Pattern INLINED = Pattern.compile("\\[\\[(.*?)]]|\\[\\((.*?)\\)]");
  private static final Pattern QUOTED = Pattern.compile("'([^']*)'");
  private static final Pattern BARS = Pattern.compile("\\|([^|]*)\\|");
  private static final Pattern INSIDE_BARS = Pattern.compile("[$#*@]\\{");

  /** What a quoted literal follows where it is compared or looked up and never shown. */
  private static final Pattern NOT_SHOWN =
      Pattern.compile("(==|!=|\\[|msg\\(|(?:count|left)\\(|startsWith\\([^']*)\\s*$");

  private static final Pattern IDENTIFIER = Pattern.compile("[\\w.\\[\\]/:-]*");
  private static final Pattern DATE_PATTERN = Pattern.compile("[yMdHms:T. -]+");

  private final Path file;
  private final List<String> found = new ArrayList<>();
  private final Deque<Boolean> replaced = new ArrayDeque<>();

  private TemplateTexts(Path file) {
    this.file = file;
  }

  static List<String> in(Path file) {
    TemplateTexts texts = new TemplateTexts(file);
    try {
      new SimpleMarkupParser(ParseConfiguration.htmlConfiguration())
          .parse(Files.readString(file), texts);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (ParseException e) {
      throw new IllegalArgumentException(file.toString(), e);
    }
    return texts.found;
  }

  @Override
  public void handleStandaloneElement(
      String name,
      @Nullable Map<String, String> attributes,
      boolean minimized,
      int line,
      int column) {
    attributes(attributes, line);
  }

  @Override
  public void handleOpenElement(
      String name, @Nullable Map<String, String> attributes, int line, int column) {
    attributes(attributes, line);
    replaced.push(
        Boolean.TRUE.equals(replaced.peek()) || replacesItsText(name, attributes) || isCode(name));
  }

  @Override
  public void handleCloseElement(String name, int line, int column) {
    replaced.pop();
  }

  @Override
  public void handleText(char[] buffer, int offset, int length, int line, int column) {
    String text = new String(buffer, offset, length);
    Matcher inlined = INLINED.matcher(text);
    while (inlined.find()) {
      expression(inlined.group(), false, line);
    }
    if (!Boolean.TRUE.equals(replaced.peek())) {
      words(INLINED.matcher(text).replaceAll(" ").replaceAll("&#?\\w+;", " "), line);
    }
  }

  private static boolean replacesItsText(String name, @Nullable Map<String, String> attributes) {
    return attributes != null
        && (attributes.containsKey("th:text")
            || attributes.containsKey("th:utext")
            || attributes.containsKey("sec:authentication")
            || attributes.containsKey("th:replace")
            || attributes.containsKey("th:insert")
            || (attributes.containsKey("lang") && !name.equals("html")));
  }

  private static boolean isCode(String name) {
    return name.equals("script") || name.equals("style");
  }

  private void attributes(@Nullable Map<String, String> attributes, int line) {
    if (attributes == null) {
      return;
    }
    attributes.forEach(
        (name, value) -> {
          if (SHOWN_ATTRIBUTES.contains(name) && !attributes.containsKey("th:" + name)) {
            words(value, line);
          }
          switch (name) {
            case "th:text", "th:utext", "th:aria-label", "th:placeholder", "th:title", "th:alt" ->
                expression(value, false, line);
            case "th:with", "th:replace", "th:insert" -> expression(value, true, line);
            case "th:attr" -> {
              if (SHOWN_ATTRIBUTES.stream().anyMatch(shown -> value.contains(shown + "="))) {
                expression(value, true, line);
              }
            }
            default -> {}
          }
        });
  }

  /**
   * @param identifiersToo whether literals may also be names of fields, classes and fragments
   */
  private void expression(@Nullable String expression, boolean identifiersToo, int line) {
    if (expression == null) {
      return;
    }
    Matcher bars = BARS.matcher(expression);
    while (bars.find()) {
      String literal = withoutExpressions(bars.group(1));
      boolean key = expression.substring(0, bars.start()).endsWith("#{");
      if (!key && !(identifiersToo && IDENTIFIER.matcher(literal).matches())) {
        words(literal, line);
      }
    }
    Matcher quoted = QUOTED.matcher(expression);
    while (quoted.find()) {
      String literal = quoted.group(1);
      boolean shown =
          !NOT_SHOWN.matcher(expression.substring(0, quoted.start())).find()
              && !DATE_PATTERN.matcher(literal).matches()
              && !(identifiersToo && IDENTIFIER.matcher(literal).matches());
      if (shown) {
        words(withoutExpressions(literal), line);
      }
    }
  }

  /** The literal without the values that are put into it; a key of a message is none of it. */
  private static String withoutExpressions(String literal) {
    StringBuilder rest = new StringBuilder();
    Matcher start = INSIDE_BARS.matcher(literal);
    int at = 0;
    while (start.find(at)) {
      rest.append(literal, at, start.start()).append('_');
      int depth = 1;
      at = start.end();
      while (at < literal.length() && depth > 0) {
        char c = literal.charAt(at++);
        depth += c == '{' ? 1 : c == '}' ? -1 : 0;
      }
    }
    return rest.append(literal.substring(at)).toString();
  }

  private void words(@Nullable String text, int line) {
    if (text == null) {
      return;
    }
    Matcher word = WORD.matcher(text);
    while (word.find()) {
      if (!SAME_EVERYWHERE.contains(word.group())) {
        found.add(file.getFileName() + " line " + line + ": " + text.strip());
        return;
      }
    }
  }
}
