package org.equiphase.web;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.TypeMismatchException;
import org.springframework.boot.servlet.autoconfigure.MultipartProperties;
import org.springframework.context.MessageSourceResolvable;
import org.springframework.core.convert.ConversionFailedException;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.dao.OptimisticLockingFailureException;
import org.springframework.dao.QueryTimeoutException;
import org.springframework.dao.RecoverableDataAccessException;
import org.springframework.dao.TransientDataAccessResourceException;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.jdbc.UncategorizedSQLException;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.TransactionSystemException;
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
import org.springframework.web.servlet.NoHandlerFoundException;
import org.springframework.web.servlet.resource.NoResourceFoundException;

/** The answers to our own exceptions and to those of Spring. */
final class CommonProblems implements ProblemTranslator {

  private static final Sentence NOT_FOUND = Sentence.of("problem.notFound");
  private static final Sentence CONFLICT = Sentence.of("problem.conflict");
  private static final Sentence MISSING = Sentence.of("problem.missing");

  private final MultipartProperties limits;

  CommonProblems(MultipartProperties limits) {
    this.limits = limits;
  }

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (exception instanceof InvalidInputException invalid) {
      return Problem.invalid(invalid.problems());
    }
    if (exception instanceof NotFoundException missing) {
      return Problem.of(HttpStatus.NOT_FOUND, NOT_FOUND, missing.words());
    }
    if (exception instanceof ConflictException conflict) {
      return Problem.of(HttpStatus.CONFLICT, CONFLICT, conflict.words());
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
      return Problem.invalid(missing.getParameterName(), MISSING);
    }
    if (exception instanceof MissingServletRequestPartException missing) {
      return Problem.invalid(missing.getRequestPartName(), Sentence.of("problem.partMissing"));
    }
    if (exception instanceof MissingRequestHeaderException missing) {
      return Problem.invalid(missing.getHeaderName(), Sentence.of("problem.headerMissing"));
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
        HttpStatus.BAD_REQUEST,
        Sentence.of("problem.brokenUpload"),
        Sentence.of("problem.brokenUploadDetail"));
  }

  Problem tooLarge() {
    return Problem.of(
        HttpStatus.CONTENT_TOO_LARGE,
        Sentence.of("problem.tooLarge"),
        Sentence.of(
            "problem.tooLargeDetail",
            limits.getMaxFileSize().toMegabytes(),
            limits.getMaxRequestSize().toMegabytes()));
  }

  static @Nullable Problem data(Exception exception) {
    if (exception instanceof OptimisticLockingFailureException) {
      return Problem.of(HttpStatus.CONFLICT, CONFLICT, Sentence.of("problem.changedMeanwhile"));
    }
    if (exception instanceof DuplicateKeyException) {
      return Problem.of(HttpStatus.CONFLICT, CONFLICT, Sentence.of("problem.sameKey"));
    }
    if (exception instanceof ConcurrencyFailureException
        || exception instanceof QueryTimeoutException
        || (exception instanceof CannotCreateTransactionException && !isUnconnected(exception))
        || isPostgresLockTimeout(exception)) {
      return Problem.busy();
    }
    if (exception instanceof DataAccessResourceFailureException
        || exception instanceof CannotCreateTransactionException
        || exception instanceof RecoverableDataAccessException
        || exception instanceof TransientDataAccessResourceException
        || exception instanceof TransactionSystemException) {
      return Problem.databaseAway();
    }
    return exception instanceof ErrorResponse response ? spring(response) : null;
  }

  /** SQL states of class 08: no connection, other than none free in the pool. */
  private static boolean isUnconnected(Throwable exception) {
    for (Throwable cause = exception; cause != null; cause = cause.getCause()) {
      if (cause instanceof SQLException sql
          && sql.getSQLState() != null
          && sql.getSQLState().startsWith("08")) {
        return true;
      }
    }
    return false;
  }

  /** SQL state lock_not_available, which Spring puts into no category. */
  private static boolean isPostgresLockTimeout(Exception exception) {
    return exception instanceof UncategorizedSQLException
        && exception.getCause() instanceof SQLException cause
        && "55P03".equals(cause.getSQLState());
  }

  private static Problem spring(ErrorResponse response) {
    HttpStatus status = HttpStatus.resolve(response.getStatusCode().value());
    if (status == null || status.is5xxServerError()) {
      status = HttpStatus.BAD_REQUEST;
    }
    Map<String, String> headers = new HashMap<>();
    response.getHeaders().forEach((name, values) -> headers.put(name, String.join(", ", values)));
    return new Problem(status, title(status), detail(response, status), List.of(), headers);
  }

  private static Sentence detail(ErrorResponse response, HttpStatus status) {
    if (response instanceof NoHandlerFoundException missing) {
      return Sentence.of("problem.nothingAt", missing.getRequestURL());
    }
    if (response instanceof NoResourceFoundException missing) {
      return Sentence.of("problem.nothingAt", "/" + missing.getResourcePath());
    }
    String detail = response.getBody().getDetail();
    return Sentence.said(detail == null ? status.getReasonPhrase() : detail);
  }

  Problem ofStatus(HttpStatusCode code) {
    HttpStatus status = HttpStatus.resolve(code.value());
    if (status == null) {
      status = HttpStatus.INTERNAL_SERVER_ERROR;
    }
    return status == HttpStatus.CONTENT_TOO_LARGE
        ? tooLarge()
        : Problem.of(status, title(status), Sentence.of("problem.titleAsDetail", title(status)));
  }

  /** In our own words where a person is likely to meet the status. */
  private static Sentence title(HttpStatus status) {
    return switch (status) {
      case BAD_REQUEST -> Sentence.of("problem.status.400");
      case FORBIDDEN -> Sentence.of("problem.status.403");
      case NOT_FOUND -> Sentence.of("problem.status.404");
      case METHOD_NOT_ALLOWED -> Sentence.of("problem.status.405");
      default -> Sentence.said(status.getReasonPhrase());
    };
  }

  private static List<FieldProblem> fields(BindException exception) {
    List<FieldProblem> problems = new ArrayList<>();
    for (FieldError error : exception.getFieldErrors()) {
      Sentence message =
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

  private static Sentence mismatchMessage(TypeMismatchException mismatch) {
    if (mismatch.getMostSpecificCause() instanceof InvalidNumberException number) {
      return number.words();
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

  private static Sentence text(MessageSourceResolvable error) {
    String message = error.getDefaultMessage();
    return message == null ? Sentence.of("problem.notValid") : Sentence.said(message);
  }
}
