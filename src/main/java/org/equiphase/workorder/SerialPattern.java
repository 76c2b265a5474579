package org.equiphase.workorder;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.jspecify.annotations.Nullable;

/**
 * Names that count: {@code SW-A-{001..016}}, or {@code SW-A-{001}} for as many as are needed. A
 * leading zero keeps the count of digits.
 *
 * @param last where it stops; null where it goes on
 */
record SerialPattern(
    String text, String before, String first, @Nullable String last, String after) {

  /** How many names one pattern may make. */
  static final int MOST = 1000;

  static final String EXAMPLE = "SW-A-{001..016}";
  static final String LABEL_EXAMPLE = "CH{1..16}";
  private static final Pattern FORM =
      Pattern.compile("([^{}]*)\\{(\\d{1,9})(?:\\.\\.(\\d{1,9}))?}([^{}]*)");

  /** Whether a name is meant as a pattern. */
  static boolean isIn(String text) {
    return text.indexOf('{') >= 0 || text.indexOf('}') >= 0;
  }

  static SerialPattern read(String field, String text) {
    Matcher form = FORM.matcher(text.strip());
    if (!form.matches()) {
      throw InvalidInputException.of(field, Sentence.of("order.pattern.form", text, EXAMPLE));
    }
    String first = form.group(2);
    String last = form.group(3);
    if (last != null) {
      if (Integer.parseInt(last) < Integer.parseInt(first)) {
        throw InvalidInputException.of(field, Sentence.of("order.pattern.reversed", text));
      }
      if ((isPadded(first) || isPadded(last)) && last.length() != first.length()) {
        throw InvalidInputException.of(field, Sentence.of("order.pattern.digits", text, EXAMPLE));
      }
    }
    SerialPattern pattern = new SerialPattern(text, form.group(1), first, last, form.group(4));
    if (last != null && pattern.size() > MOST) {
      throw tooMany(field, text, pattern.size());
    }
    return pattern;
  }

  boolean isOpen() {
    return last == null;
  }

  /** How many names it makes, where it says so. */
  int size() {
    return last == null ? 1 : Integer.parseInt(last) - Integer.parseInt(first) + 1;
  }

  /** The names for so many things. */
  List<String> names(String field, int count) {
    if (last != null && size() != count) {
      throw InvalidInputException.of(
          field, Sentence.of("order.pattern.count", text, size(), count));
    }
    if (count > MOST) {
      throw tooMany(field, text, count);
    }
    boolean padded = isPadded(first);
    List<String> names = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      String digits = Long.toString(Long.parseLong(first) + i);
      if (padded && digits.length() > first.length()) {
        throw InvalidInputException.of(field, Sentence.of("order.pattern.width", text, count));
      }
      String zeros = padded ? "0".repeat(first.length() - digits.length()) : "";
      names.add(before + zeros + digits + after);
    }
    return names;
  }

  /** The names that a line stands for: itself, or those of its pattern. */
  static List<String> namesOf(String field, String text) {
    if (!isIn(text)) {
      return List.of(text);
    }
    SerialPattern pattern = read(field, text);
    return pattern.names(field, pattern.size());
  }

  /**
   * The positions that one stands for. Its label counts them; a serial number that counts too has
   * to agree, and a blank one stays blank for each.
   *
   * @param at where the position stands, before the names of its fields
   */
  static List<PositionDraft> positions(String at, PositionDraft draft) {
    if (!isIn(draft.label()) && !isIn(draft.serial())) {
      return List.of(draft);
    }
    List<String> labels = namesOf(at + "label", draft.label());
    List<String> serials;
    if (draft.serial().isBlank()) {
      serials = labels.stream().map(label -> "").toList();
    } else if (isIn(draft.serial())) {
      SerialPattern pattern = read(at + "serial", draft.serial());
      if (labels.size() == 1 && !isIn(draft.label()) && pattern.size() > 1) {
        throw InvalidInputException.of(
            at + "label",
            Sentence.of("order.pattern.label", draft.label(), pattern.size(), LABEL_EXAMPLE));
      }
      serials = pattern.names(at + "serial", labels.size());
    } else if (labels.size() == 1) {
      serials = List.of(draft.serial());
    } else {
      throw InvalidInputException.of(
          at + "serial",
          Sentence.of("order.pattern.oneSerial", draft.serial(), labels.size(), EXAMPLE));
    }
    List<PositionDraft> positions = new ArrayList<>();
    for (int i = 0; i < labels.size(); i++) {
      positions.add(
          new PositionDraft(
              labels.get(i), serials.get(i), draft.offsetPhaseDeg(), draft.offsetDelayPs()));
    }
    return positions;
  }

  private static boolean isPadded(String digits) {
    return digits.length() > 1 && digits.startsWith("0");
  }

  private static InvalidInputException tooMany(String field, String text, int count) {
    return InvalidInputException.of(field, Sentence.of("order.pattern.tooMany", text, count, MOST));
  }
}
