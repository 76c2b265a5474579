package org.equiphase.rf.touchstone;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * The option line; what it leaves out takes the format's defaults.
 *
 * @param unit unit of the frequencies
 * @param kind network parameters
 * @param format number format
 * @param referenceOhm one resistance for all ports, or one per port, ohm
 */
record Options(
    FrequencyUnit unit, ParameterKind kind, NumberFormat format, List<Double> referenceOhm) {
  private static final String FIELD = "option line";

  static final Options DEFAULT =
      new Options(FrequencyUnit.GHZ, ParameterKind.S, NumberFormat.MA, List.of(50.0));

  /**
   * Reads an option line; its parts may come in any order.
   *
   * @param text what follows the {@code #}
   */
  static Options parse(String text, int line) {
    FrequencyUnit unit = null;
    ParameterKind kind = null;
    NumberFormat format = null;
    List<Double> ohms = null;
    Tokens tokens = Tokens.of(text);
    for (int i = 0; i < tokens.size(); i++) {
      String token = tokens.get(i).toUpperCase(Locale.ROOT);
      FrequencyUnit namedUnit = named(FrequencyUnit.values(), token);
      ParameterKind namedKind = named(ParameterKind.values(), token);
      NumberFormat namedFormat = named(NumberFormat.values(), token);
      if (token.equals("R")) {
        once(ohms, token, line);
        ohms = new ArrayList<>();
        while (i + 1 < tokens.size() && startsNumber(tokens.get(i + 1))) {
          ohms.add(ohm(tokens.get(++i), line, FIELD));
        }
        if (ohms.isEmpty()) {
          throw new TouchstoneException(line, FIELD, "R needs a resistance in ohm after it");
        }
      } else if (namedUnit != null) {
        once(unit, token, line);
        unit = namedUnit;
      } else if (namedKind != null) {
        once(kind, token, line);
        kind = namedKind;
      } else if (namedFormat != null) {
        once(format, token, line);
        format = namedFormat;
      } else {
        throw new TouchstoneException(
            line,
            FIELD,
            "'"
                + tokens.get(i)
                + "' is not known; possible are Hz kHz MHz GHz, S Y Z H G, DB MA RI, and R with"
                + " a resistance");
      }
    }
    return new Options(
        unit == null ? DEFAULT.unit : unit,
        kind == null ? DEFAULT.kind : kind,
        format == null ? DEFAULT.format : format,
        ohms == null ? DEFAULT.referenceOhm : List.copyOf(ohms));
  }

  static double ohm(String token, int line, String field) {
    double ohm = Numbers.parse(token, line, field);
    if (ohm <= 0) {
      throw new TouchstoneException(
          line, field, "a reference resistance must be above 0 ohm, not " + token);
    }
    return ohm;
  }

  private static boolean startsNumber(String token) {
    char c = token.charAt(0);
    return (c >= '0' && c <= '9') || c == '.' || c == '+' || c == '-';
  }

  private static <E extends Enum<E>> @Nullable E named(E[] values, String token) {
    for (E value : values) {
      if (value.name().equals(token)) {
        return value;
      }
    }
    return null;
  }

  private static void once(@Nullable Object before, String token, int line) {
    if (before != null) {
      throw new TouchstoneException(line, FIELD, "'" + token + "' says a second time what is said");
    }
  }
}
