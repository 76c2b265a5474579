package org.equiphase.rf.touchstone;

import java.util.ArrayList;
import java.util.List;
import java.util.StringTokenizer;

/** Splits lines at blanks and tabs. */
final class Tokens {
  private Tokens() {}

  static List<String> of(String text) {
    StringTokenizer tokenizer = new StringTokenizer(text);
    List<String> tokens = new ArrayList<>(tokenizer.countTokens());
    while (tokenizer.hasMoreTokens()) {
      tokens.add(tokenizer.nextToken());
    }
    return tokens;
  }
}
