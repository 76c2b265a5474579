package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import java.util.Set;
import org.springframework.http.HttpMethod;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

/** What a token is good for, within what its owner may. */
public enum TokenScope {
  /** Looks only. */
  READ(Set.of(HttpMethod.GET, HttpMethod.HEAD), List.of()),
  /** Looks, and brings in what was measured: all that a station needs. */
  MEASURE(
      Set.of(HttpMethod.GET, HttpMethod.HEAD),
      List.of(
          "/api/v1/files/**",
          "/api/v1/readings",
          "/api/v1/readings/sweeps",
          "/api/v1/readings/captures",
          "/api/v1/reference-checks")),
  /** Everything that its owner may. */
  ALL(Set.of(HttpMethod.values()), List.of());

  private final Set<HttpMethod> methods;
  private final List<PathPatternRequestMatcher> posts;

  TokenScope(Set<HttpMethod> methods, List<String> posts) {
    this.methods = methods;
    this.posts =
        posts.stream()
            .map(path -> PathPatternRequestMatcher.withDefaults().matcher(HttpMethod.POST, path))
            .toList();
  }

  boolean allows(HttpServletRequest request) {
    return methods.contains(HttpMethod.valueOf(request.getMethod()))
        || posts.stream().anyMatch(post -> post.matches(request));
  }
}
