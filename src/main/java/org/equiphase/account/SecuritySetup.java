package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.InternalAuthenticationServiceException;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.crypto.factory.PasswordEncoderFactories;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.authentication.LoginUrlAuthenticationEntryPoint;
import org.springframework.security.web.authentication.www.BasicAuthenticationFilter;
import org.springframework.security.web.csrf.CsrfException;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;

/** Sign-in: the API by token or Basic without a session, the pages by session with CSRF tokens. */
@Configuration(proxyBeanMethods = false)
class SecuritySetup {

  private static final String CONTENT_POLICY =
      "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'self';"
          + " form-action 'self'; frame-ancestors 'none'";

  private final Problems problems;

  SecuritySetup(Problems problems) {
    this.problems = problems;
  }

  @Bean
  static PasswordEncoder passwordEncoder() {
    return PasswordEncoderFactories.createDelegatingPasswordEncoder();
  }

  @Bean
  @Order(1)
  SecurityFilterChain apiChain(HttpSecurity http, ApiTokens tokens) {
    headers(http);
    return http.securityMatcher("/api/**")
        .authorizeHttpRequests(AccessRules::apply)
        .sessionManagement(
            session -> session.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
        .csrf(csrf -> csrf.disable())
        .requestCache(cache -> cache.disable())
        .httpBasic(basic -> basic.authenticationEntryPoint(this::apiSignInNeeded))
        .addFilterBefore(
            new BearerFilter(tokens, this::apiSignInNeeded), BasicAuthenticationFilter.class)
        .exceptionHandling(
            handling ->
                handling
                    .authenticationEntryPoint(this::apiSignInNeeded)
                    .accessDeniedHandler(this::denied))
        .build();
  }

  @Bean
  @Order(2)
  SecurityFilterChain pageChain(HttpSecurity http) {
    headers(http);
    HttpSessionRequestCache cache = new HttpSessionRequestCache();
    cache.setRequestMatcher(SecuritySetup::isWholePage);
    return http.authorizeHttpRequests(AccessRules::apply)
        .requestCache(configurer -> configurer.requestCache(cache))
        .formLogin(form -> form.loginPage("/sign-in").failureUrl("/sign-in?failed"))
        .logout(logout -> logout.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?out"))
        .exceptionHandling(
            handling ->
                handling
                    .authenticationEntryPoint(this::pageSignInNeeded)
                    .accessDeniedHandler(this::denied))
        .build();
  }

  private static void headers(HttpSecurity http) {
    http.headers(
        headers ->
            headers
                .contentSecurityPolicy(policy -> policy.policyDirectives(CONTENT_POLICY))
                .referrerPolicy(policy -> policy.policy(ReferrerPolicy.SAME_ORIGIN)));
  }

  private static boolean isWholePage(HttpServletRequest request) {
    String accept = request.getHeader(HttpHeaders.ACCEPT);
    return HttpMethod.GET.matches(request.getMethod())
        && request.getHeader("HX-Request") == null
        && accept != null
        && accept.contains("text/html");
  }

  private void apiSignInNeeded(
      HttpServletRequest request, HttpServletResponse response, AuthenticationException exception)
      throws IOException {
    // Who is told to sign in again, while only the database is away, would give up its work.
    if (exception instanceof InternalAuthenticationServiceException
        && exception.getCause() instanceof RuntimeException cause) {
      problems.answer(request, response, problems.of(cause));
      return;
    }
    response.addHeader(
        HttpHeaders.WWW_AUTHENTICATE, "Basic realm=\"Equiphase\", charset=\"UTF-8\"");
    response.addHeader(HttpHeaders.WWW_AUTHENTICATE, "Bearer");
    problems.answer(
        request,
        response,
        Problem.of(
            HttpStatus.UNAUTHORIZED,
            Sentence.of("problem.signInNeeded"),
            Sentence.of("problem.signInNeededDetail")));
  }

  private void pageSignInNeeded(
      HttpServletRequest request, HttpServletResponse response, AuthenticationException exception)
      throws IOException, jakarta.servlet.ServletException {
    if (request.getHeader("HX-Request") == null) {
      new LoginUrlAuthenticationEntryPoint("/sign-in").commence(request, response, exception);
    } else {
      response.setHeader("HX-Redirect", request.getContextPath() + "/sign-in");
      response.setStatus(HttpServletResponse.SC_UNAUTHORIZED);
    }
  }

  private void denied(
      HttpServletRequest request, HttpServletResponse response, AccessDeniedException exception)
      throws IOException {
    Sentence detail =
        Sentence.of(
            exception instanceof CsrfException ? "problem.endedSession" : "problem.otherRole");
    problems.answer(
        request,
        response,
        Problem.of(HttpStatus.FORBIDDEN, Sentence.of("problem.notAllowed"), detail));
  }
}
