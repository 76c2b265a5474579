package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.InternalAuthenticationServiceException;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configurers.SessionManagementConfigurer.SessionFixationConfigurer;
import org.springframework.security.config.http.SessionCreationPolicy;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.crypto.bcrypt.BCryptPasswordEncoder;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.oauth2.client.registration.ClientRegistrationRepository;
import org.springframework.security.oauth2.core.OAuth2AuthenticationException;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.security.web.authentication.LoginUrlAuthenticationEntryPoint;
import org.springframework.security.web.authentication.www.BasicAuthenticationFilter;
import org.springframework.security.web.context.SecurityContextHolderFilter;
import org.springframework.security.web.csrf.CsrfException;
import org.springframework.security.web.csrf.CsrfFilter;
import org.springframework.security.web.header.writers.CrossOriginOpenerPolicyHeaderWriter.CrossOriginOpenerPolicy;
import org.springframework.security.web.header.writers.CrossOriginResourcePolicyHeaderWriter.CrossOriginResourcePolicy;
import org.springframework.security.web.header.writers.ReferrerPolicyHeaderWriter.ReferrerPolicy;
import org.springframework.security.web.savedrequest.HttpSessionRequestCache;

/** Sign-in: the API by token or Basic without a session, the pages by session with CSRF tokens. */
@Configuration(proxyBeanMethods = false)
@EnableConfigurationProperties(SignInSettings.class)
class SecuritySetup {

  private static final String CONTENT_POLICY =
      "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'self';"
          + " form-action 'self'; frame-ancestors 'none'";

  /** What no page of ours asks a browser for. */
  private static final String NO_DEVICES =
      "camera=(), geolocation=(), microphone=(), payment=(), usb=()";

  private final Problems problems;

  SecuritySetup(Problems problems) {
    this.problems = problems;
  }

  /** A hash of another kind or cost is made anew when its owner signs in. */
  @Bean
  static PasswordEncoder passwordEncoder(
      @Value("${equiphase.password.bcrypt-cost:12}") int bcryptCost) {
    return new DelegatingPasswordEncoder(
        "bcrypt", Map.of("bcrypt", new BCryptPasswordEncoder(bcryptCost)));
  }

  @Bean
  @Order(1)
  SecurityFilterChain apiChain(HttpSecurity http, ApiTokens tokens) {
    headers(http);
    return http.securityMatcher("/api/**", "/actuator/health/**", "/actuator/prometheus")
        .authorizeHttpRequests(AccessRules::apply)
        .sessionManagement(
            session -> session.sessionCreationPolicy(SessionCreationPolicy.STATELESS))
        .csrf(csrf -> csrf.disable())
        .requestCache(cache -> cache.disable())
        .httpBasic(basic -> basic.authenticationEntryPoint(this::apiSignInNeeded))
        .addFilterBefore(
            new BearerFilter(tokens, this::apiSignInNeeded, this::denied),
            BasicAuthenticationFilter.class)
        .exceptionHandling(
            handling ->
                handling
                    .authenticationEntryPoint(this::apiSignInNeeded)
                    .accessDeniedHandler(this::denied))
        .build();
  }

  @Bean
  @Order(2)
  SecurityFilterChain pageChain(
      HttpSecurity http,
      SignInSettings settings,
      ObjectProvider<ClientRegistrationRepository> providers,
      ProviderAccounts providerAccounts,
      Clock clock) {
    headers(http);
    HttpSessionRequestCache cache = new HttpSessionRequestCache();
    cache.setRequestMatcher(SecuritySetup::isWholePage);
    http.authorizeHttpRequests(AccessRules::apply)
        .requestCache(configurer -> configurer.requestCache(cache))
        .formLogin(form -> form.loginPage("/sign-in").failureHandler(SecuritySetup::signInFailed))
        .logout(logout -> logout.logoutUrl("/sign-out").logoutSuccessUrl("/sign-in?out"))
        // A session of its own for each sign-in, whose age is the time since.
        .sessionManagement(
            session -> session.sessionFixation(SessionFixationConfigurer::migrateSession))
        .addFilterBefore(
            new LongestSession(settings.longestSession(), clock), SecurityContextHolderFilter.class)
        .addFilterBefore(new NoUploadsByStrangers(this::pageSignInNeeded), CsrfFilter.class)
        .exceptionHandling(
            handling ->
                handling
                    .authenticationEntryPoint(this::pageSignInNeeded)
                    .accessDeniedHandler(this::denied));
    if (providers.getIfAvailable() != null) {
      http.oauth2Login(
          login ->
              login
                  .loginPage("/sign-in")
                  .failureHandler(SecuritySetup::signInFailed)
                  .userInfoEndpoint(
                      user ->
                          user.oidcUserService(providerAccounts)
                              .userService(ProviderAccounts::refuseWithoutOpenId)));
    }
    return http.build();
  }

  private static void headers(HttpSecurity http) {
    http.headers(
        headers ->
            headers
                .contentSecurityPolicy(policy -> policy.policyDirectives(CONTENT_POLICY))
                .referrerPolicy(policy -> policy.policy(ReferrerPolicy.SAME_ORIGIN))
                .permissionsPolicyHeader(policy -> policy.policy(NO_DEVICES))
                .crossOriginOpenerPolicy(
                    policy -> policy.policy(CrossOriginOpenerPolicy.SAME_ORIGIN))
                .crossOriginResourcePolicy(
                    policy -> policy.policy(CrossOriginResourcePolicy.SAME_ORIGIN)));
  }

  private static boolean isWholePage(HttpServletRequest request) {
    String accept = request.getHeader(HttpHeaders.ACCEPT);
    return HttpMethod.GET.matches(request.getMethod())
        && request.getHeader("HX-Request") == null
        && accept != null
        && accept.contains("text/html");
  }

  private static void signInFailed(
      HttpServletRequest request, HttpServletResponse response, AuthenticationException exception)
      throws IOException {
    String why =
        exception instanceof TooManyAttemptsException tooMany
            ? "wait=" + tooMany.waitSeconds()
            : exception instanceof OAuth2AuthenticationException ? "stranger" : "failed";
    response.sendRedirect(request.getContextPath() + "/sign-in?" + why);
  }

  private void apiSignInNeeded(
      HttpServletRequest request, HttpServletResponse response, AuthenticationException exception)
      throws IOException {
    if (exception instanceof TooManyAttemptsException tooMany) {
      problems.answer(
          request,
          response,
          new Problem(
              HttpStatus.TOO_MANY_REQUESTS,
              Sentence.of("problem.signInNeeded"),
              tooMany.words(),
              List.of(),
              Map.of(HttpHeaders.RETRY_AFTER, String.valueOf(tooMany.waitSeconds()))));
      return;
    }
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
    problems.answer(
        request,
        response,
        Problem.of(HttpStatus.FORBIDDEN, Sentence.of("problem.notAllowed"), why(exception)));
  }

  private static Sentence why(AccessDeniedException exception) {
    if (exception instanceof BearerFilter.ScopeException narrow) {
      return Sentence.of("problem.tokenScope", Sentence.term(narrow.scope()));
    }
    return Sentence.of(
        exception instanceof CsrfException ? "problem.endedSession" : "problem.otherRole");
  }
}
