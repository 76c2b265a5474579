package org.equiphase.measurement.scpi;

import java.text.MessageFormat;
import java.util.Locale;
import java.util.ResourceBundle;
import java.util.stream.Stream;

/**
 * A capture came to nothing. The message is a sentence for the person at the bench, from the bundle
 * {@code messages/capture}: in English for records and programs, or in the reader's language.
 */
public abstract sealed class ScpiException extends RuntimeException {

  private static final ResourceBundle.Control NO_FALLBACK =
      ResourceBundle.Control.getNoFallbackControl(ResourceBundle.Control.FORMAT_PROPERTIES);

  private final String key;
  private final String[] values;

  private ScpiException(String key, Object... values) {
    this.key = key;
    this.values = Stream.of(values).map(Object::toString).toArray(String[]::new);
  }

  @Override
  public String getMessage() {
    return in(Locale.ENGLISH);
  }

  /** Of the message, in the room capture. */
  public String key() {
    return "capture." + key;
  }

  /** What is put into the message. */
  public String[] values() {
    return values.clone();
  }

  /** The sentence in a language. */
  public String in(Locale locale) {
    String pattern =
        ResourceBundle.getBundle("messages/capture", locale, NO_FALLBACK).getString(key());
    return values.length == 0 ? pattern : new MessageFormat(pattern, locale).format(values);
  }

  /** Nobody listens there, or the name is not known, or nothing answered in time. */
  public static final class NotConnected extends ScpiException {
    NotConnected(String key, Object... values) {
      super(key, values);
    }
  }

  /** The whole answer did not come within the time allowed for it. */
  public static final class NoAnswer extends ScpiException {
    private final boolean partial;

    /**
     * @param partial whether a part of the answer came
     */
    NoAnswer(boolean partial, String key, Object... values) {
      super(key, values);
      this.partial = partial;
    }

    boolean isPartial() {
      return partial;
    }
  }

  /** The connection ended while an answer was due. */
  public static final class ConnectionCut extends ScpiException {
    ConnectionCut(String key, Object... values) {
      super(key, values);
    }
  }

  /** The instrument itself reports an error. */
  public static final class InstrumentError extends ScpiException {
    private final int number;

    InstrumentError(int number, String key, Object... values) {
      super(key, values);
      this.number = number;
    }

    /** The first error's number, such as −113; below zero for those that SCPI-99 defines. */
    public int number() {
      return number;
    }
  }

  /** An answer came that is not what was asked for. */
  public static final class UnusableAnswer extends ScpiException {
    UnusableAnswer(String key, Object... values) {
      super(key, values);
    }
  }
}
