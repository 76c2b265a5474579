package org.equiphase.account;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.security.authentication.AuthenticationCredentialsNotFoundException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.AuthenticationEntryPoint;
import org.springframework.util.StringUtils;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Refuses uploads without a session before anyone looks for the CSRF token among their parts, which
 * would store them on disk.
 */
final class NoUploadsByStrangers extends OncePerRequestFilter {

  private final AuthenticationEntryPoint refusal;

  NoUploadsByStrangers(AuthenticationEntryPoint refusal) {
    this.refusal = refusal;
  }

  @Override
  protected void doFilterInternal(
      HttpServletRequest request, HttpServletResponse response, FilterChain chain)
      throws ServletException, IOException {
    if (StringUtils.startsWithIgnoreCase(request.getContentType(), "multipart/")
        && SecurityContextHolder.getContext().getAuthentication() == null) {
      refusal.commence(request, response, new AuthenticationCredentialsNotFoundException("upload"));
      return;
    }
    chain.doFilter(request, response);
  }
}
