package org.equiphase.account;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Locale;
import java.util.Optional;
import org.springframework.dao.DataAccessException;
import org.springframework.http.HttpHeaders;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.InternalAuthenticationServiceException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.AuthenticationEntryPoint;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.transaction.TransactionException;
import org.springframework.web.filter.OncePerRequestFilter;

/** Signs a request in by the API token in its Authorization header. */
final class BearerFilter extends OncePerRequestFilter {

  private static final String SCHEME = "bearer ";

  private final ApiTokens tokens;
  private final AuthenticationEntryPoint refusal;
  private final AccessDeniedHandler denial;

  BearerFilter(ApiTokens tokens, AuthenticationEntryPoint refusal, AccessDeniedHandler denial) {
    this.tokens = tokens;
    this.refusal = refusal;
    this.denial = denial;
  }

  /** The token's scope is too narrow for the request. */
  static final class ScopeException extends AccessDeniedException {
    private final TokenScope scope;

    ScopeException(TokenScope scope) {
      super("token scope");
      this.scope = scope;
    }

    TokenScope scope() {
      return scope;
    }
  }

  @Override
  protected void doFilterInternal(
      HttpServletRequest request, HttpServletResponse response, FilterChain chain)
      throws ServletException, IOException {
    String header = request.getHeader(HttpHeaders.AUTHORIZATION);
    if (header == null || !header.toLowerCase(Locale.ROOT).startsWith(SCHEME)) {
      chain.doFilter(request, response);
      return;
    }
    Optional<ApiTokens.Use> use;
    try {
      use = tokens.use(header.substring(SCHEME.length()).strip());
    } catch (DataAccessException | TransactionException e) {
      refusal.commence(request, response, new InternalAuthenticationServiceException("token", e));
      return;
    }
    if (use.isEmpty()) {
      refusal.commence(request, response, new BadCredentialsException("token"));
      return;
    }
    if (!use.get().scope().allows(request)) {
      denial.handle(request, response, new ScopeException(use.get().scope()));
      return;
    }
    SignedIn signedIn = use.get().owner();
    SecurityContext context = SecurityContextHolder.createEmptyContext();
    context.setAuthentication(
        UsernamePasswordAuthenticationToken.authenticated(
            signedIn, null, signedIn.getAuthorities()));
    SecurityContextHolder.setContext(context);
    chain.doFilter(request, response);
  }
}
