package org.equiphase.sheet;

import java.io.Serializable;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** The language of one print. Numbers keep their decimal point in all of them. */
public record Words(Locale locale) {

  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);

  /** A message of the bundles with its values. */
  public String text(String key, Serializable... values) {
    return say(Sentence.of(key, values));
  }

  /** A sentence in this language; text that people wrote stays as it is. */
  public String say(@Nullable Object words) {
    if (words == null) {
      return "";
    }
    return words instanceof Sentence sentence ? sentence.inFile(locale) : words.toString();
  }

  /** Date and time to the minute, the same wherever it is printed. */
  public String utc(Instant at) {
    return MINUTE.format(at);
  }
}
