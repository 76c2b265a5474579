package org.equiphase.rf.touchstone;

/**
 * The quick way to a double: with at most 15 digits and a power of ten up to 10²², both are exact
 * doubles, so that one multiplication or division rounds correctly (Clinger, "How to read floating
 * point numbers accurately", 1990).
 */
final class ShortDecimal {
  private static final int MOST_DIGITS = 15;
  private static final double[] POWER_OF_TEN = {
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22
  };

  private ShortDecimal() {}

  /** The number in part of a text times a power of ten; NaN for anything longer or else. */
  static double parse(String text, int start, int end, int powerOfTen) {
    int i = start;
    boolean negative = text.charAt(i) == '-';
    if (negative || text.charAt(i) == '+') {
      i++;
    }
    long digits = 0;
    int count = 0;
    int point = -1;
    for (; i < end; i++) {
      char c = text.charAt(i);
      if (c >= '0' && c <= '9') {
        digits = 10 * digits + (c - '0');
        // Leading zeros carry nothing
        count += digits == 0 ? 0 : 1;
        if (count > MOST_DIGITS) {
          return Double.NaN;
        }
      } else if (c == '.' && point < 0) {
        point = i;
      } else {
        break;
      }
    }
    int mantissaEnd = i;
    int signs = negative || text.charAt(start) == '+' ? 1 : 0;
    if (mantissaEnd - start - signs - (point < 0 ? 0 : 1) == 0) {
      return Double.NaN;
    }
    int exponent = powerOfTen - (point < 0 ? 0 : mantissaEnd - point - 1);
    if (i < end) {
      int written = exponent(text, i, end);
      if (written == Integer.MIN_VALUE) {
        return Double.NaN;
      }
      exponent += written;
    }
    if (exponent < -22 || exponent > 22) {
      return Double.NaN;
    }
    double value =
        exponent < 0 ? digits / POWER_OF_TEN[-exponent] : digits * POWER_OF_TEN[exponent];
    return negative ? -value : value;
  }

  /** An exponent of up to three digits with its letter; the least integer for anything else. */
  private static int exponent(String text, int start, int end) {
    char letter = text.charAt(start);
    int i = start + 1;
    if ((letter != 'e' && letter != 'E') || i == end) {
      return Integer.MIN_VALUE;
    }
    boolean negative = text.charAt(i) == '-';
    if (negative || text.charAt(i) == '+') {
      i++;
    }
    if (i == end || end - i > 3) {
      return Integer.MIN_VALUE;
    }
    int value = 0;
    for (; i < end; i++) {
      char c = text.charAt(i);
      if (c < '0' || c > '9') {
        return Integer.MIN_VALUE;
      }
      value = 10 * value + (c - '0');
    }
    return negative ? -value : value;
  }
}
