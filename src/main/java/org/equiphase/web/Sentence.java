package org.equiphase.web;

import com.fasterxml.jackson.annotation.JsonValue;
import java.io.Serializable;
import java.util.List;
import java.util.Locale;

/**
 * Words for a person, said in their language when they are shown. Records, logs and answers to
 * programs carry them in English.
 *
 * @param key of the message in {@code messages/<part of the key before its first dot>.properties}
 * @param values what is put into it: strings, whole numbers, {@link Figure}s and other sentences
 */
public record Sentence(String key, List<Serializable> values) implements Serializable {

  public static final Locale RECORD_LANGUAGE = Locale.ENGLISH;

  public Sentence {
    values = List.copyOf(values);
  }

  public static Sentence of(String key, Serializable... values) {
    return new Sentence(key, List.of(values));
  }

  public String in(Locale locale) {
    return in(locale, locale);
  }

  /** The sentence as sheets and files carry it: in the language, its numbers with a point. */
  public String inFile(Locale locale) {
    return in(locale, Locale.ROOT);
  }

  private String in(Locale locale, Locale ofNumbers) {
    Object[] said =
        values.stream()
            .map(
                value -> {
                  if (value instanceof Sentence sentence) {
                    return sentence.in(locale, ofNumbers);
                  }
                  return value instanceof Figure figure ? figure.in(ofNumbers) : value.toString();
                })
            .toArray();
    return Texts.message(key, locale, said);
  }

  /** The sentence in English, as it is kept on record. */
  @JsonValue
  @Override
  public String toString() {
    return in(RECORD_LANGUAGE);
  }
}
