package org.equiphase.web;

import com.fasterxml.jackson.annotation.JsonValue;
import java.io.Serializable;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Words for a person, said in their language when they are shown. Records, logs and answers to
 * programs carry them in English.
 *
 * @param key of the message in {@code messages/<part of the key before its first dot>.properties}
 * @param values what is put into it: strings, whole numbers, {@link Figure}s, {@link Digits} and
 *     other sentences
 */
public record Sentence(String key, List<Serializable> values) implements Serializable {

  public static final Locale RECORD_LANGUAGE = Locale.ENGLISH;

  public Sentence {
    values = List.copyOf(values);
  }

  public static Sentence of(String key, Serializable... values) {
    return new Sentence(key, List.of(values));
  }

  /** What is text already, in whatever language it was written. */
  public static Sentence said(String text) {
    return of("problem.asSaid", text);
  }

  /** What a value of an enumeration is called. */
  public static Sentence term(Enum<?> value) {
    return of("term." + value.getDeclaringClass().getSimpleName() + "." + value.name());
  }

  /**
   * A sentence found again from how it was kept on record; where it is none of these messages, the
   * record's own text.
   */
  public static Sentence recalled(String record, String... keys) {
    for (String key : keys) {
      Object[] values = Texts.values(key, record);
      if (values != null) {
        return of(key, Arrays.stream(values).map(Object::toString).toArray(Serializable[]::new));
      }
    }
    return said(record);
  }

  public String in(Locale locale) {
    return in(locale, locale);
  }

  /** The sentence as sheets and files carry it: in the language, its numbers with a point. */
  public String inFile(Locale locale) {
    return in(locale, Locale.ROOT);
  }

  private String in(Locale locale, Locale ofNumbers) {
    return Texts.message(
        key, locale, values.stream().map(value -> inWords(value, locale, ofNumbers)).toArray());
  }

  private static String inWords(Serializable value, Locale locale, Locale ofNumbers) {
    if (value instanceof Sentence sentence) {
      return sentence.in(locale, ofNumbers);
    }
    if (value instanceof Figure figure) {
      return figure.in(ofNumbers);
    }
    return value instanceof Digits digits ? digits.in(ofNumbers) : value.toString();
  }

  /** The sentence in English, as it is kept on record. */
  @JsonValue
  @Override
  public String toString() {
    return in(RECORD_LANGUAGE);
  }
}
