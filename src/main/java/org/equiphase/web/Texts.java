package org.equiphase.web;

import java.text.MessageFormat;
import java.text.ParsePosition;
import java.util.List;
import java.util.Locale;
import java.util.MissingResourceException;
import java.util.ResourceBundle;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.context.support.AbstractMessageSource;

/**
 * All text that people read, from {@code messages/<room>.properties} and its translations; the room
 * is the part of the key before its first dot. Templates call it as {@code @texts}.
 */
public class Texts extends AbstractMessageSource {

  /** The languages there are, the language of records first. */
  public static final List<Locale> LANGUAGES = List.of(Sentence.RECORD_LANGUAGE, Locale.GERMAN);

  private static final ResourceBundle.Control NO_FALLBACK =
      ResourceBundle.Control.getNoFallbackControl(ResourceBundle.Control.FORMAT_PROPERTIES);

  @Override
  protected @Nullable String resolveCodeWithoutArguments(String code, Locale locale) {
    return pattern(code, locale);
  }

  @Override
  protected @Nullable MessageFormat resolveCode(String code, Locale locale) {
    String pattern = pattern(code, locale);
    return pattern == null ? null : new MessageFormat(pattern, locale);
  }

  /** A message with values that are text already. */
  static String message(String key, Locale locale, Object... values) {
    String pattern = pattern(key, locale);
    if (pattern == null) {
      throw new IllegalArgumentException("no message " + key);
    }
    return values.length == 0 ? pattern : new MessageFormat(pattern, locale).format(values);
  }

  /** What was put into a message on record; null where it is not this message. */
  static Object @Nullable [] values(String key, String record) {
    String pattern = message(key, Sentence.RECORD_LANGUAGE);
    if (!pattern.contains("{")) {
      return pattern.equals(record) ? new Object[0] : null;
    }
    ParsePosition end = new ParsePosition(0);
    Object[] values = new MessageFormat(pattern, Sentence.RECORD_LANGUAGE).parse(record, end);
    return end.getIndex() == record.length() ? values : null;
  }

  /** What is to be said, in the reader's language; text of people stays as it is. */
  public static String say(@Nullable Object words) {
    if (words == null) {
      return "";
    }
    Locale locale = LocaleContextHolder.getLocale();
    if (words instanceof Sentence sentence) {
      return sentence.in(locale);
    }
    return words instanceof Digits digits ? digits.in(locale) : words.toString();
  }

  /** What a value of an enumeration is called, in the reader's language. */
  public static String term(Enum<?> value) {
    return say(Sentence.term(value));
  }

  private static @Nullable String pattern(String key, Locale locale) {
    int dot = key.indexOf('.');
    if (dot < 0) {
      return null;
    }
    try {
      return ResourceBundle.getBundle("messages/" + key.substring(0, dot), locale, NO_FALLBACK)
          .getString(key);
    } catch (MissingResourceException e) {
      return null;
    }
  }
}
