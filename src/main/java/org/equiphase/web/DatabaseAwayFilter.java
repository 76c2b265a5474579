package org.equiphase.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.session.web.http.SessionRepositoryFilter;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.util.HtmlUtils;

/**
 * Tells on a bare page that the database is away: with it the sessions are away, without which the
 * usual page can't be shown.
 */
@Component
@Order(SessionRepositoryFilter.DEFAULT_ORDER - 1)
class DatabaseAwayFilter extends OncePerRequestFilter {

  private final Problems problems;
  private final Reader reader;

  DatabaseAwayFilter(Problems problems, Reader reader) {
    this.problems = problems;
    this.reader = reader;
  }

  @Override
  protected void doFilterInternal(
      HttpServletRequest request, HttpServletResponse response, FilterChain chain)
      throws ServletException, IOException {
    try {
      chain.doFilter(request, response);
    } catch (RuntimeException | ServletException e) {
      Problem problem = unavailable(e);
      if (problem == null || response.isCommitted()) {
        throw e;
      }
      response.reset();
      if (Problems.isApi(request)) {
        problems.answer(request, response, problem);
      } else {
        page(request, response, problem);
      }
    }
  }

  private static @Nullable Problem unavailable(Exception exception) {
    for (Throwable cause = exception; cause != null; cause = cause.getCause()) {
      Problem problem = cause instanceof Exception e ? CommonProblems.data(e) : null;
      if (problem != null && problem.httpStatus() == HttpStatus.SERVICE_UNAVAILABLE) {
        return problem;
      }
    }
    return null;
  }

  private void page(HttpServletRequest request, HttpServletResponse response, Problem problem)
      throws IOException {
    Locale locale = reader.resolveLocale(request);
    String title = HtmlUtils.htmlEscape(problem.title().in(locale));
    String detail = HtmlUtils.htmlEscape(problem.detail().in(locale));
    response.setStatus(problem.getStatus());
    problem.headers().forEach(response::setHeader);
    response.setHeader(HttpHeaders.CACHE_CONTROL, "no-store");
    response.setHeader("Content-Security-Policy", "default-src 'self'");
    response.setContentType(MediaType.TEXT_HTML_VALUE);
    response.setCharacterEncoding(StandardCharsets.UTF_8);
    if (ErrorAnswers.isFragment(request, response)) {
      response.getWriter().write("<div class=\"alert bad\"><p>" + detail + "</p></div>");
      return;
    }
    response
        .getWriter()
        .write(
            """
            <!DOCTYPE html>
            <html lang="%s">
            <head><meta charset="utf-8"><title>%s · Equiphase</title>
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <link rel="stylesheet" href="%s/assets/app.css"></head>
            <body><main id="main"><h1>%s</h1><div class="alert bad"><p>%s</p></div></main></body>
            </html>
            """
                .formatted(locale.getLanguage(), title, request.getContextPath(), title, detail));
  }
}
