package org.equiphase.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.core.AuthenticationException;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.context.request.async.AsyncRequestNotUsableException;
import org.springframework.web.servlet.ModelAndView;

/**
 * Answers every exception that a controller lets pass: as a problem in JSON under /api, else as a
 * page. A controller's own handler comes first, so a form can show its errors in place.
 */
@ControllerAdvice
@Order(Ordered.HIGHEST_PRECEDENCE)
class ErrorAnswers {

  private final Problems problems;

  ErrorAnswers(Problems problems) {
    this.problems = problems;
  }

  @ExceptionHandler
  @Nullable Object answer(
      Exception exception, HttpServletRequest request, HttpServletResponse response)
      throws Exception {
    if (exception instanceof AccessDeniedException
        || exception instanceof AuthenticationException) {
      throw exception;
    }
    if (exception instanceof AsyncRequestNotUsableException) {
      return null;
    }
    Problem problem = problems.of(exception);
    return Problems.isApi(request) ? body(problem) : page(request, response, problem);
  }

  static ResponseEntity<Problem> body(Problem problem) {
    return ResponseEntity.status(problem.httpStatus())
        .headers(headers -> problem.headers().forEach(headers::set))
        .contentType(MediaType.APPLICATION_PROBLEM_JSON)
        .body(problem);
  }

  /** The whole page, or for htmx only the text, which goes to the page's place for problems. */
  static ModelAndView page(
      HttpServletRequest request, HttpServletResponse response, Problem problem) {
    problem.headers().forEach(response::setHeader);
    return new ModelAndView(
        isFragment(request, response) ? "error/problem :: problem" : "error/problem",
        Map.of("problem", problem),
        problem.httpStatus());
  }

  /** Whether htmx asks; it is told to put the text into the page's place for problems. */
  static boolean isFragment(HttpServletRequest request, HttpServletResponse response) {
    if (request.getHeader("HX-Request") == null) {
      return false;
    }
    response.setHeader("HX-Retarget", "#problems");
    response.setHeader("HX-Reswap", "innerHTML");
    return true;
  }
}
