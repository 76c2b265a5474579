package org.equiphase.rf.touchstone;

import java.util.Arrays;

/** A line split at blanks and tabs; a token becomes a string only where one is asked for. */
final class Tokens {
  private final String text;
  private int[] starts = new int[16];
  private int[] ends = new int[16];
  private int size;

  private Tokens(String text) {
    this.text = text;
  }

  static Tokens of(String text) {
    Tokens tokens = new Tokens(text);
    int i = 0;
    int length = text.length();
    while (i < length) {
      while (i < length && text.charAt(i) <= ' ') {
        i++;
      }
      int start = i;
      while (i < length && text.charAt(i) > ' ') {
        i++;
      }
      if (i > start) {
        tokens.add(start, i);
      }
    }
    return tokens;
  }

  private void add(int start, int end) {
    if (size == starts.length) {
      starts = Arrays.copyOf(starts, 2 * size);
      ends = Arrays.copyOf(ends, 2 * size);
    }
    starts[size] = start;
    ends[size++] = end;
  }

  int size() {
    return size;
  }

  String get(int i) {
    if (i >= size) {
      throw new IndexOutOfBoundsException(i);
    }
    return text.substring(starts[i], ends[i]);
  }

  /**
   * The number of a token times a power of ten, where it is short enough to be exact at once; NaN
   * where {@link Numbers} has to look closer.
   */
  double shortNumber(int i, int powerOfTen) {
    return ShortDecimal.parse(text, starts[i], ends[i], powerOfTen);
  }
}
