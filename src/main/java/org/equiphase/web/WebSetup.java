package org.equiphase.web;

import java.time.Clock;
import org.springframework.boot.jackson.autoconfigure.JsonMapperBuilderCustomizer;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.session.config.SessionRepositoryCustomizer;
import org.springframework.session.jdbc.JdbcIndexedSessionRepository;
import org.springframework.session.jdbc.PostgreSqlJdbcIndexedSessionRepositoryCustomizer;
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

  /**
   * Requests of one session may set the same attribute at once, at two instances even. H2 knows no
   * such statement.
   */
  @Bean
  static SessionRepositoryCustomizer<JdbcIndexedSessionRepository> sessionWrites(
      JdbcConnectionDetails database) {
    return database.getJdbcUrl().startsWith("jdbc:postgresql:")
        ? new PostgreSqlJdbcIndexedSessionRepositoryCustomizer()
        : sessions -> {};
  }

  @Bean
  static JsonMapperBuilderCustomizer strictJson() {
    return builder ->
        builder
            .addModule(new FiniteJsonNumbers())
            .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION);
  }
}
