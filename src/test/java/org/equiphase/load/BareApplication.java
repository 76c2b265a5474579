package org.equiphase.load;

import java.util.Map;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.EnableAutoConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.web.SecurityFilterChain;

/**
 * Nothing of its own, with the same libraries: what the service's start is measured against. It is
 * no component, or else the service would find it in tests.
 */
@EnableAutoConfiguration
public class BareApplication {

  public static void main(String[] arguments) {
    SpringApplication application = new SpringApplication(BareApplication.class);
    // The service's own settings lie on the same class path.
    application.setDefaultProperties(
        Map.of(
            "spring.config.name", "bare",
            "spring.flyway.enabled", "false",
            "spring.session.jdbc.initialize-schema", "always"));
    application.run(arguments);
  }

  /** The health must be open, or else nobody could tell that it is up. */
  @Bean
  SecurityFilterChain chain(HttpSecurity http) {
    return http.authorizeHttpRequests(rules -> rules.anyRequest().permitAll()).build();
  }
}
