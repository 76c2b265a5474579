package org.equiphase.web;

import java.time.Clock;
import org.springframework.boot.jackson.autoconfigure.JsonMapperBuilderCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.convert.converter.Converter;
import org.springframework.format.FormatterRegistry;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import tools.jackson.core.StreamReadFeature;

/** How requests are read. */
@Configuration(proxyBeanMethods = false)
@EnableScheduling
class WebSetup implements WebMvcConfigurer {

  @Bean
  static Clock clock() {
    return Clock.systemUTC();
  }

  @Bean
  static JsonMapperBuilderCustomizer strictJson() {
    return builder ->
        builder
            .addModule(new FiniteJsonNumbers())
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION);
  }

  @Override
  public void addFormatters(FormatterRegistry registry) {
    registry.addConverter(new FiniteNumberConverter());
  }

  /** Reads a form's or a query's number; an empty text is no number. */
  static final class FiniteNumberConverter implements Converter<String, Double> {
    @Override
    @SuppressWarnings("NullAway")
    public Double convert(String text) {
      String trimmed = text.strip();
      if (trimmed.isEmpty()) {
        return null;
      }
      // Java would also read a type suffix ("2d") and hexadecimal digits.
      if (trimmed.matches("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?")) {
        double value = Double.parseDouble(trimmed);
        if (Double.isFinite(value)) {
          return value;
        }
      }
      String hint = trimmed.matches("[+-]?\\d+,\\d+") ? "; use a point for decimals" : "";
      throw new InvalidNumberException("\"" + text + "\" is not a number" + hint);
    }
  }
}
