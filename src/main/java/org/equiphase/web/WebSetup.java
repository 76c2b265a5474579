package org.equiphase.web;

import java.time.Clock;
import org.springframework.boot.jackson.autoconfigure.JsonMapperBuilderCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.scheduling.annotation.EnableScheduling;
import tools.jackson.core.StreamReadFeature;

/** How requests are read. */
@Configuration(proxyBeanMethods = false)
@EnableScheduling
class WebSetup {

  @Bean
  static Clock clock() {
    return Clock.systemUTC();
  }

  @Bean({"messageSource", "texts"})
  static Texts texts() {
    return new Texts();
  }

  @Bean
  static JsonMapperBuilderCustomizer strictJson() {
    return builder ->
        builder
            .addModule(new FiniteJsonNumbers())
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION);
  }
}
