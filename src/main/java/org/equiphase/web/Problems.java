package org.equiphase.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.List;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.servlet.autoconfigure.MultipartProperties;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** Turns exceptions into problems, and answers with problems from outside of controllers. */
@Component
public class Problems {

  /** The request attribute under which the error page finds the problem of a filter. */
  static final String ATTRIBUTE = Problems.class.getName();

  private static final Logger log = LoggerFactory.getLogger(Problems.class);

  private final List<ProblemTranslator> translators;
  private final CommonProblems common;
  private final JsonMapper json;

  Problems(List<ProblemTranslator> translators, MultipartProperties limits, JsonMapper json) {
    this.translators = translators;
    this.common = new CommonProblems(limits);
    this.json = json;
  }

  /**
   * The answer to an exception. One that nobody knows is logged with an id, and the answer shows
   * only that id.
   */
  public Problem of(Exception exception) {
    for (ProblemTranslator translator : translators) {
      Problem problem = translator.translate(exception);
      if (problem != null) {
        return problem;
      }
    }
    Problem problem = common.translate(exception);
    return problem != null ? problem : unexpected(exception);
  }

  /** The answer to a bare status, where no exception is known. */
  Problem ofStatus(HttpStatusCode status) {
    return common.ofStatus(status);
  }

  Problem tooLarge() {
    return common.tooLarge();
  }

  /** Logs the exception and answers with nothing but the id of the log entry. */
  public Problem unexpected(Exception exception) {
    String id = UUID.randomUUID().toString();
    log.error("Error {}", id, exception);
    return Problem.of(
        HttpStatus.INTERNAL_SERVER_ERROR,
        Sentence.of("problem.internalError"),
        Sentence.of("problem.internalErrorDetail", id));
  }

  /** Answers a request with a problem: JSON for the API, else the error page. */
  public void answer(HttpServletRequest request, HttpServletResponse response, Problem problem)
      throws IOException {
    problem.headers().forEach(response::setHeader);
    if (isApi(request)) {
      response.setStatus(problem.getStatus());
      response.setContentType(MediaType.APPLICATION_PROBLEM_JSON_VALUE);
      response.getOutputStream().write(json.writeValueAsBytes(problem));
    } else {
      request.setAttribute(ATTRIBUTE, problem);
      response.sendError(problem.getStatus());
    }
  }

  static boolean isApi(HttpServletRequest request) {
    Object failedPath = request.getAttribute(jakarta.servlet.RequestDispatcher.ERROR_REQUEST_URI);
    String path = failedPath == null ? request.getRequestURI() : failedPath.toString();
    return path.startsWith(request.getContextPath() + "/api/");
  }
}
