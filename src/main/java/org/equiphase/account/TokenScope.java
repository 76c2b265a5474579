package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import java.util.stream.Stream;
import org.springframework.http.HttpMethod;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

/** What a token is good for, within what its owner may. */
public enum TokenScope {
  /** Looks only. */
  READ,
  /** Looks, and brings in what was measured: all that a station needs. */
  MEASURE,
  /** Everything that its owner may. */
  ALL,
  /** Looks at metrics and health alone: all that a monitor needs. */
  METRICS;

  private static final List<PathPatternRequestMatcher> MONITORED =
      matchers(HttpMethod.GET, "/actuator/prometheus", "/actuator/health/**");
  private static final List<PathPatternRequestMatcher> MEASURED =
      matchers(
          HttpMethod.POST,
          "/api/v1/files/**",
          "/api/v1/readings",
          "/api/v1/readings/sweeps",
          "/api/v1/readings/captures",
          "/api/v1/reference-checks");

  boolean allows(HttpServletRequest request) {
    return switch (this) {
      case READ -> looks(request);
      case MEASURE -> looks(request) || isAny(MEASURED, request);
      case ALL -> true;
      case METRICS -> isAny(MONITORED, request);
    };
  }

  private static boolean looks(HttpServletRequest request) {
    HttpMethod method = HttpMethod.valueOf(request.getMethod());
    return method.equals(HttpMethod.GET) || method.equals(HttpMethod.HEAD);
  }

  private static boolean isAny(
      List<PathPatternRequestMatcher> matchers, HttpServletRequest request) {
    return matchers.stream().anyMatch(matcher -> matcher.matches(request));
  }

  private static List<PathPatternRequestMatcher> matchers(HttpMethod method, String... paths) {
    return Stream.of(paths)
        .map(path -> PathPatternRequestMatcher.withDefaults().matcher(method, path))
        .toList();
  }
}
