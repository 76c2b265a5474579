package org.equiphase.web;

/** Patterns for {@code like … escape '!'} that find a text as it was typed. */
public final class Like {

  private Like() {}

  /** What begins with the text. */
  public static String beginning(String text) {
    return text.replaceAll("([!%_])", "!$1") + "%";
  }

  /** What has the text in it. */
  public static String containing(String text) {
    return "%" + beginning(text);
  }
}
