package org.equiphase.account;

import static org.equiphase.account.Role.ADMINISTRATOR;
import static org.equiphase.account.Role.PLANNER;
import static org.equiphase.account.Role.QA;
import static org.equiphase.account.Role.TECHNICIAN;

import jakarta.servlet.DispatcherType;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.springframework.http.HttpMethod;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.AuthorizeHttpRequestsConfigurer;

/**
 * Who may do what. The first rule that fits decides; what no rule names is denied. A {@link
 * Feature}'s rules hold for the pages at its path and for the API at /api/v1 plus that path.
 */
final class AccessRules {

  private static final List<HttpMethod> WRITES =
      List.of(HttpMethod.POST, HttpMethod.PUT, HttpMethod.PATCH, HttpMethod.DELETE);
  private static final List<HttpMethod> READS = List.of(HttpMethod.GET, HttpMethod.HEAD);

  private static final Role[] ALL = Role.values();

  /** Without an account. */
  private static final List<String> OPEN =
      List.of(
          "/sign-in",
          "/setup",
          "/assets/**",
          "/webjars/**",
          "/favicon.ico",
          "/actuator/health",
          "/actuator/health/readiness",
          "/actuator/health/liveness");

  /** The more special paths first. */
  static final List<Feature> FEATURES =
      List.of(
          feature("/people").reads(ADMINISTRATOR).writes(ADMINISTRATOR),
          feature("/audit").reads(QA, ADMINISTRATOR),
          feature("/operation").reads(ADMINISTRATOR).writes(ADMINISTRATOR),
          feature("/actuator/prometheus").reads(ADMINISTRATOR),
          feature("/account").reads(ALL).writes(ALL),
          feature("/catalog").reads(ALL).writes(PLANNER, QA, ADMINISTRATOR),
          feature("/workorders/imports").reads(PLANNER).writes(PLANNER),
          feature("/workorders/*/workbook").reads(ALL).writes(PLANNER, TECHNICIAN, QA),
          feature("/workorders").reads(ALL).writes(PLANNER),
          feature("/building").reads(ALL).writes(PLANNER),
          feature("/board").reads(ALL),
          feature("/traveler/routes").reads(ALL).writes(PLANNER),
          feature("/traveler/workorders").reads(ALL).writes(PLANNER),
          feature("/traveler/steps").reads(ALL).writes(TECHNICIAN, QA),
          feature("/traveler/jobs").reads(ALL).writes(ALL),
          feature("/traveler").reads(ALL),
          feature("/bench").reads(ALL).writes(TECHNICIAN, QA),
          feature("/files").reads(ALL).writes(TECHNICIAN, QA),
          feature("/readings").reads(ALL).writes(TECHNICIAN, QA),
          feature("/reference-checks").reads(ALL).writes(TECHNICIAN, QA),
          feature("/instructions").reads(ALL).writes(TECHNICIAN, QA),
          feature("/sets").reads(ALL),
          feature("/assemblies").reads(ALL),
          feature("/gauge-studies").reads(ALL).writes(QA),
          feature("/review/settings").reads(ALL).writes(ADMINISTRATOR),
          feature("/review").reads(ALL).writes(QA),
          feature("/release").reads(ALL).writes(QA),
          feature("/process").reads(ALL).writes(QA),
          feature("/calculations").reads(ALL).writes(ALL),
          feature("/calculator").reads(ALL).writes(ALL),
          feature("/openapi*").reads(ALL));

  private AccessRules() {}

  static void apply(
      AuthorizeHttpRequestsConfigurer<HttpSecurity>.AuthorizationManagerRequestMatcherRegistry
          registry) {
    registry.dispatcherTypeMatchers(DispatcherType.ERROR, DispatcherType.FORWARD).permitAll();
    registry.requestMatchers(OPEN.toArray(String[]::new)).permitAll();
    for (Feature feature : FEATURES) {
      for (HttpMethod method : READS) {
        registry.requestMatchers(method, feature.patterns()).hasAnyRole(names(feature.readers()));
      }
      for (HttpMethod method : WRITES) {
        if (feature.writers().isEmpty()) {
          registry.requestMatchers(method, feature.patterns()).denyAll();
        } else {
          registry.requestMatchers(method, feature.patterns()).hasAnyRole(names(feature.writers()));
        }
      }
    }
    // Home, and addresses at which nothing is.
    for (HttpMethod method : READS) {
      registry.requestMatchers(method, "/**").authenticated();
    }
    registry.anyRequest().denyAll();
  }

  private static String[] names(Set<Role> roles) {
    return roles.stream().map(Role::name).toArray(String[]::new);
  }

  private static Feature feature(String path) {
    return new Feature(path, Set.of(), Set.of());
  }

  /** Who may look and who may change at the paths of a feature. */
  record Feature(String path, Set<Role> readers, Set<Role> writers) {

    private Feature reads(Role... roles) {
      return new Feature(path, Set.of(roles), writers);
    }

    private Feature writes(Role... roles) {
      return new Feature(path, readers, Set.of(roles));
    }

    String[] patterns() {
      return Stream.of(path, "/api/v1" + path).map(each -> each + "/**").toArray(String[]::new);
    }
  }
}
