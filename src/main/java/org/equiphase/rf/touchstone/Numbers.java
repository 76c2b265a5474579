package org.equiphase.rf.touchstone;

import java.util.Locale;

/** Reads numbers as the format allows them: decimal, finite, nothing else. */
final class Numbers {
  // Instruments write 9.9e37 for infinity and 9.91e37 for "not a number" (SCPI-99, 7.2.1).
  private static final double INSTRUMENT_INFINITY = 9.9e37;

  private Numbers() {}

  static double parse(String token, int line, String field) {
    return parse(token, 0, line, field);
  }

  /** A frequency, converted in decimal so that 0.7 GHz is 700 000 000 Hz. */
  static double parseFrequencyHz(String token, FrequencyUnit unit, int line) {
    double hertz = parse(token, unit.powerOfTen(), line, "frequency");
    if (hertz < 0) {
      throw new TouchstoneException(line, "frequency", "must be 0 or more, not " + token);
    }
    return hertz;
  }

  static int parseCount(String token, int line, String field, int lowest, int highest) {
    if (token.isEmpty()
        || token.length() > 9
        || !token.chars().allMatch(c -> c >= '0' && c <= '9')) {
      throw new TouchstoneException(line, field, "needs a whole number, not '" + token + "'");
    }
    int count = Integer.parseInt(token);
    if (count < lowest || count > highest) {
      throw new TouchstoneException(
          line, field, "must lie from " + lowest + " to " + highest + ", not at " + count);
    }
    return count;
  }

  private static double parse(String token, int powerOfTen, int line, String field) {
    int exponentAt = -1;
    for (int i = 0; i < token.length(); i++) {
      char c = token.charAt(i);
      boolean exponent = "eEdD".indexOf(c) >= 0;
      if (exponent && exponentAt < 0) {
        exponentAt = i;
      } else if (exponent || !((c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.')) {
        throw notANumber(token, line, field);
      }
    }
    double value;
    try {
      String mantissa = exponentAt < 0 ? token : token.substring(0, exponentAt);
      int exponent = exponentAt < 0 ? 0 : exponent(token.substring(exponentAt + 1));
      value = Double.parseDouble(mantissa + "e" + (exponent + powerOfTen));
    } catch (NumberFormatException e) {
      throw notANumber(token, line, field);
    }
    if (Math.abs(value) >= INSTRUMENT_INFINITY) {
      throw new TouchstoneException(
          line, field, "'" + token + "' is infinite or no reading; measure again");
    }
    return value;
  }

  private static int exponent(String digits) {
    if (digits.length() > 9) {
      throw new NumberFormatException(digits);
    }
    return Integer.parseInt(digits);
  }

  private static TouchstoneException notANumber(String token, int line, String field) {
    String shown = token.length() > 40 ? token.substring(0, 40) + "…" : token;
    String lower = token.toLowerCase(Locale.ROOT);
    boolean spelled = lower.contains("nan") || lower.contains("inf") || lower.contains("#");
    return new TouchstoneException(
        line,
        field,
        spelled
            ? "'" + shown + "' is no reading; a finite number is needed"
            : "'" + shown + "' is not a number");
  }
}
