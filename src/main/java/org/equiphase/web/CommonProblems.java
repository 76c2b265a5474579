package org.equiphase.web;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.TypeMismatchException;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.core.convert.ConversionFailedException;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.dao.QueryTimeoutException;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.validation.BindException;
import org.springframework.validation.FieldError;
import org.springframework.validation.method.ParameterValidationResult;
import org.springframework.web.ErrorResponse;
import org.springframework.web.bind.MissingRequestHeaderException;
import org.springframework.web.bind.MissingServletRequestParameterException;
import org.springframework.web.method.annotation.HandlerMethodValidationException;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.multipart.MultipartException;
import org.springframework.web.multipart.support.MissingServletRequestPartException;
import org.springframework.web.servlet.resource.NoResourceFoundException;

/** The answers to our own exceptions and to those of Spring. */
final class CommonProblems implements ProblemTranslator {

  private static final String CHANGED_MEANWHILE =
      "Someone else changed this meanwhile. Load it again and repeat your change.";

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (exception instanceof InvalidInputException invalid) {
      return Problem.invalid(invalid.problems());
    }
    if (exception instanceof NotFoundException) {
      return Problem.of(HttpStatus.NOT_FOUND, "Not found", text(exception));
    }
    if (exception instanceof ConflictException) {
      return Problem.of(HttpStatus.CONFLICT, "Conflict", text(exception));
    }
    if (exception instanceof HttpMessageNotReadableException unreadable) {
      return JsonProblems.of(unreadable);
    }
    if (exception instanceof BindException bind) {
      return Problem.invalid(fields(bind));
    }
    if (exception instanceof HandlerMethodValidationException validation) {
      return Problem.invalid(fields(validation));
    }
    if (exception instanceof MethodArgumentTypeMismatchException mismatch) {
      return Problem.invalid(mismatch.getName(), mismatchMessage(mismatch));
    }
    if (exception instanceof MissingServletRequestParameterException missing) {
      return Problem.invalid(missing.getParameterName(), "is missing");
    }
    if (exception instanceof MissingServletRequestPartException missing) {
      return Problem.invalid(
          missing.getRequestPartName(), "is missing; send it as a multipart part");
    }
    if (exception instanceof MissingRequestHeaderException missing) {
      return Problem.invalid(missing.getHeaderName(), "this header is missing");
    }
    if (exception instanceof MaxUploadSizeExceededException) {
      return tooLarge();
    }
    if (exception instanceof MultipartException) {
      return brokenUpload();
    }
    return data(exception);
  }

  static Problem brokenUpload() {
    return Problem.of(
        HttpStatus.BAD_REQUEST, "Invalid upload", "The upload is not complete multipart data.");
  }

  static Problem tooLarge() {
    return Problem.of(
        HttpStatus.CONTENT_TOO_LARGE,
        "Upload too large",
        "A file may have up to 20 MB and a request up to 50 MB. Send fewer files at once.");
  }

  private static @Nullable Problem data(Exception exception) {
    if (exception instanceof OptimisticLockingFailureException) {
      return Problem.of(HttpStatus.CONFLICT, "Conflict", CHANGED_MEANWHILE);
    }
    if (exception instanceof DuplicateKeyException) {
      return Problem.of(
          HttpStatus.CONFLICT, "Conflict", "There is already an entry with the same key.");
    }
    if (exception instanceof ConcurrencyFailureException
        || exception instanceof QueryTimeoutException
        || exception instanceof CannotCreateTransactionException) {
      return Problem.busy();
    }
    return exception instanceof ErrorResponse response ? spring(response) : null;
  }

  private static Problem spring(ErrorResponse response) {
    HttpStatus status = HttpStatus.resolve(response.getStatusCode().value());
    if (status == null || status.is5xxServerError()) {
      status = HttpStatus.BAD_REQUEST;
    }
    Map<String, String> headers = new HashMap<>();
    response.getHeaders().forEach((name, values) -> headers.put(name, String.join(", ", values)));
    String detail = response.getBody().getDetail();
    if (response instanceof NoResourceFoundException missing) {
      detail = "There is nothing at /" + missing.getResourcePath() + ".";
    }
    return new Problem(
        status,
        status.getReasonPhrase(),
        detail == null ? status.getReasonPhrase() : detail,
        List.of(),
        headers);
  }

  /** The answer to a bare status, where no exception is known. */
  static Problem ofStatus(HttpStatusCode code) {
    HttpStatus status = HttpStatus.resolve(code.value());
    if (status == null) {
      status = HttpStatus.INTERNAL_SERVER_ERROR;
    }
    return status == HttpStatus.CONTENT_TOO_LARGE
        ? tooLarge()
        : Problem.of(status, status.getReasonPhrase(), status.getReasonPhrase() + ".");
  }

  private static List<FieldProblem> fields(BindException exception) {
    List<FieldProblem> problems = new ArrayList<>();
    for (FieldError error : exception.getFieldErrors()) {
      String message =
          error.contains(TypeMismatchException.class)
              ? mismatchMessage(error.unwrap(TypeMismatchException.class))
              : text(error);
      problems.add(new FieldProblem(error.getField(), message));
    }
    exception
        .getGlobalErrors()
        .forEach(error -> problems.add(new FieldProblem(error.getObjectName(), text(error))));
    return problems;
  }

  private static List<FieldProblem> fields(HandlerMethodValidationException exception) {
    List<FieldProblem> problems = new ArrayList<>();
    for (ParameterValidationResult result : exception.getParameterValidationResults()) {
      String name = result.getMethodParameter().getParameterName();
      for (MessageSourceResolvable error : result.getResolvableErrors()) {
        problems.add(new FieldProblem(name == null ? "request" : name, text(error)));
      }
    }
    return problems;
  }

  private static String mismatchMessage(TypeMismatchException mismatch) {
    Throwable root = mismatch.getMostSpecificCause();
    if (root instanceof InvalidNumberException) {
      return text(root);
    }
    ConversionFailedException element = null;
    for (Throwable cause = mismatch; cause != null; cause = cause.getCause()) {
      element = cause instanceof ConversionFailedException failed ? failed : element;
    }
    if (element != null) {
      return JsonProblems.expectation(element.getValue(), element.getTargetType().getType());
    }
    Class<?> type = mismatch.getRequiredType();
    return JsonProblems.expectation(mismatch.getValue(), type == null ? Object.class : type);
  }

  private static String text(MessageSourceResolvable error) {
    String message = error.getDefaultMessage();
    return message == null ? "is not valid" : message;
  }

  private static String text(Throwable exception) {
    String message = exception.getMessage();
    return message == null ? "" : message;
  }
}
