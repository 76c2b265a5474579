package org.equiphase.web;

import java.math.BigDecimal;
import java.text.DecimalFormatSymbols;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Numbers and times as people read them; the only place that rounds. On pages the decimal sign is
 * that of the reader's language; sheets and files take {@link #PLAIN}.
 */
@Component("format")
public class Format {

  /** With a decimal point, whoever reads. */
  public static final Format PLAIN = new Format(() -> Locale.ROOT);

  private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm");
  private static final String MISSING = "–";

  private final Supplier<Locale> language;

  /** In the language of the person before the screen. */
  @Autowired
  public Format() {
    this(LocaleContextHolder::getLocale);
  }

  Format(Supplier<Locale> language) {
    this.language = language;
  }

  /** Degrees with two decimals and a sign, as errors are written. */
  public String signedDeg(@Nullable Double degrees) {
    return degrees == null
        ? MISSING
        : written(String.format(Locale.ROOT, "%+.2f", zeroFree(degrees, 2)));
  }

  /** Degrees with two decimals. */
  public String deg(@Nullable Double degrees) {
    return decimals(degrees, 2);
  }

  /** Millimetres with two decimals. */
  public String mm(@Nullable Double millimetres) {
    return decimals(millimetres, 2);
  }

  /** A length that is cut or set, in the reader's unit: millimetres as they are, or inches. */
  public String length(@Nullable Double millimetres) {
    return Reader.lengthUnit() == LengthUnit.MM
        ? plain(millimetres) + " mm"
        : inches(millimetres) + " in";
  }

  /** The same length in the other unit. */
  public String otherLength(@Nullable Double millimetres) {
    return Reader.lengthUnit() == LengthUnit.MM
        ? inches(millimetres) + " in"
        : plain(millimetres) + " mm";
  }

  /** The same length in inches, three decimals. */
  public String inches(@Nullable Double millimetres) {
    return millimetres == null ? MISSING : decimals(millimetres / 25.4, 3);
  }

  /** Gigahertz without trailing zeros. */
  public String ghz(double hertz) {
    return plain(hertz / 1e9);
  }

  /** Megahertz without trailing zeros. */
  public String mhz(double hertz) {
    return plain(hertz / 1e6);
  }

  /** A number with as many decimals as asked for. */
  public String decimals(@Nullable Double value, int decimals) {
    return value == null
        ? MISSING
        : written(String.format(Locale.ROOT, "%." + decimals + "f", zeroFree(value, decimals)));
  }

  /** A number with up to six significant decimals and no trailing zeros. */
  public String plain(@Nullable Double value) {
    if (value == null) {
      return MISSING;
    }
    return written(
        BigDecimal.valueOf(Math.round(value * 1e6), 6).stripTrailingZeros().toPlainString());
  }

  /** A probability in percent, one decimal; never rounded to certainty either way. */
  public String percent(@Nullable Double probability) {
    if (probability == null) {
      return MISSING;
    }
    if (probability > 0.9995 || probability < 0.0005) {
      return (probability > 0.5 ? "> " + decimals(99.9, 1) : "< " + decimals(0.1, 1)) + " %";
    }
    return decimals(100 * probability, 1) + " %";
  }

  /** Date and time to the minute, in the zone of the service. */
  public String time(@Nullable Instant instant) {
    return instant == null ? MISSING : MINUTE.format(instant.atZone(ZoneId.systemDefault()));
  }

  /** A negative number that rounds to zero is written without its sign. */
  private static double zeroFree(double value, int decimals) {
    double scale = Math.pow(10, decimals);
    return Math.round(value * scale) == 0 ? 0.0 : value;
  }

  private String written(String number) {
    char decimalSign = DecimalFormatSymbols.getInstance(language.get()).getDecimalSeparator();
    return number.replace('-', '−').replace('.', decimalSign);
  }
}
