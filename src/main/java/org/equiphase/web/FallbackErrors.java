package org.equiphase.web;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.RequestMapping;

/** Answers errors that arise outside of controllers: in filters and in the container. */
@Controller
class FallbackErrors implements ErrorController {

  private final Problems problems;

  FallbackErrors(Problems problems) {
    this.problems = problems;
  }

  @RequestMapping("/error")
  Object answer(HttpServletRequest request, HttpServletResponse response) {
    Problem problem = problem(request);
    return Problems.isApi(request)
        ? ErrorAnswers.body(problem)
        : ErrorAnswers.page(request, response, problem);
  }

  private Problem problem(HttpServletRequest request) {
    if (request.getAttribute(Problems.ATTRIBUTE) instanceof Problem problem) {
      return problem;
    }
    int status =
        request.getAttribute(RequestDispatcher.ERROR_STATUS_CODE) instanceof Integer code
            ? code
            : 404;
    if (status >= 500
        && request.getAttribute(RequestDispatcher.ERROR_EXCEPTION) instanceof Exception exception) {
      return problems.of(exception);
    }
    return problems.ofStatus(HttpStatusCode.valueOf(status));
  }
}
