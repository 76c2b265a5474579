package org.equiphase.account;

import static org.equiphase.account.Role.ADMINISTRATOR;
import static org.equiphase.account.Role.PLANNER;
import static org.equiphase.account.Role.QA;
import static org.equiphase.account.Role.TECHNICIAN;

import jakarta.servlet.DispatcherType;
import java.util.Arrays;
import org.springframework.http.HttpMethod;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.AuthorizeHttpRequestsConfigurer;

/**
 * Who may do what. The first rule that fits decides; what no rule names is denied. Rules under
 * {@link #feature} hold for the pages at a path and for the API at /api/v1 plus that path.
 */
final class AccessRules {

  private static final HttpMethod[] WRITES = {
    HttpMethod.POST, HttpMethod.PUT, HttpMethod.PATCH, HttpMethod.DELETE
  };
  private static final HttpMethod[] READS = {HttpMethod.GET, HttpMethod.HEAD};

  private final AuthorizeHttpRequestsConfigurer<HttpSecurity>
          .AuthorizationManagerRequestMatcherRegistry
      registry;

  private AccessRules(
      AuthorizeHttpRequestsConfigurer<HttpSecurity>.AuthorizationManagerRequestMatcherRegistry
          registry) {
    this.registry = registry;
  }

  static void apply(
      AuthorizeHttpRequestsConfigurer<HttpSecurity>.AuthorizationManagerRequestMatcherRegistry
          registry) {
    new AccessRules(registry).table();
  }

  private void table() {
    registry.dispatcherTypeMatchers(DispatcherType.ERROR, DispatcherType.FORWARD).permitAll();
    open("/sign-in", "/setup", "/assets/**", "/webjars/**", "/favicon.ico");
    open("/actuator/health", "/actuator/health/readiness", "/actuator/health/liveness");
    registry.requestMatchers("/actuator/prometheus").hasRole(ADMINISTRATOR.name());

    feature("/people").all(ADMINISTRATOR);
    feature("/audit").reads(QA, ADMINISTRATOR);
    feature("/operation").all(ADMINISTRATOR);
    feature("/account").all(Role.values());

    feature("/catalog").writes(PLANNER, QA, ADMINISTRATOR);
    feature("/workorders/imports").all(PLANNER);
    feature("/workorders/*/workbook").writes(PLANNER, TECHNICIAN, QA);
    feature("/workorders").writes(PLANNER);
    feature("/building").writes(PLANNER);
    feature("/traveler/routes").writes(PLANNER);
    feature("/traveler/workorders").writes(PLANNER);
    feature("/traveler/steps").writes(TECHNICIAN, QA);
    feature("/traveler/jobs").writes(Role.values());
    feature("/bench").writes(TECHNICIAN, QA);
    feature("/files").writes(TECHNICIAN, QA);
    feature("/readings").writes(TECHNICIAN, QA);
    feature("/reference-checks").writes(TECHNICIAN, QA);
    feature("/instructions").writes(TECHNICIAN, QA);
    feature("/gauge-studies").writes(QA);
    feature("/review/settings").writes(ADMINISTRATOR);
    feature("/review").writes(QA);
    feature("/release").writes(QA);
    feature("/process").writes(QA);
    feature("/calculations").writes(Role.values());
    feature("/calculator").writes(Role.values());
    for (HttpMethod method : WRITES) {
      registry.requestMatchers(method, "/**").denyAll();
    }
    for (HttpMethod method : READS) {
      registry.requestMatchers(method, "/**").authenticated();
    }
    registry.anyRequest().denyAll();
  }

  private void open(String... patterns) {
    registry.requestMatchers(patterns).permitAll();
  }

  private Feature feature(String path) {
    return new Feature(path);
  }

  /** A feature's paths; rules that it does not state are the general ones. */
  private final class Feature {
    private final String[] patterns;

    Feature(String path) {
      patterns = new String[] {path + "/**", "/api/v1" + path + "/**"};
    }

    void reads(Role... roles) {
      rule(READS, roles);
    }

    void writes(Role... roles) {
      rule(WRITES, roles);
    }

    void all(Role... roles) {
      reads(roles);
      writes(roles);
    }

    private void rule(HttpMethod[] methods, Role... roles) {
      String[] names = Arrays.stream(roles).map(Role::name).toArray(String[]::new);
      for (HttpMethod method : methods) {
        registry.requestMatchers(method, patterns).hasAnyRole(names);
      }
    }
  }
}
