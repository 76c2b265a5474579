package org.equiphase.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.security.Principal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.apache.tomcat.util.http.fileupload.FileUploadException;
import org.apache.tomcat.util.http.fileupload.impl.SizeException;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.security.autoconfigure.web.servlet.SecurityFilterProperties;
import org.springframework.boot.servlet.autoconfigure.MultipartProperties;
import org.springframework.core.Ordered;
import org.springframework.dao.CannotAcquireLockException;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionStatus;
import org.springframework.transaction.support.DefaultTransactionDefinition;
import org.springframework.util.StringUtils;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Runs each write in one transaction together with its idempotency key and the answer to it, so
 * that the same request sent twice is stored once and answered the same. An answer of 400 or above
 * rolls everything back, the key too. Nothing is sent before the commit.
 *
 * <p>A write must be answered synchronously. A controller that catches a service's exception must
 * answer with 400 or above, since the service's transaction, which is this one, can't be committed
 * any more.
 */
@Component
class IdempotencyFilter extends OncePerRequestFilter implements Ordered {

  static final String HEADER = "Idempotency-Key";

  /** Tells a sender who repeats itself that its first request was stored. */
  private static final String USED = "Idempotency-Key-Used";

  static final String FIELD = "idempotencyKey";

  private static final Set<String> SAFE_METHODS = Set.of("GET", "HEAD", "OPTIONS", "TRACE");
  private static final Set<String> WITHOUT_KEY = Set.of("/sign-in", "/sign-out", "/setup");
  private static final String CALCULATIONS = "/api/v1/calculations/";
  private static final String CALCULATOR = "/calculator/";
  private static final List<String> KEPT_HEADERS =
      List.of("Content-Type", "Location", "ETag", "HX-Redirect", "HX-Trigger", "HX-Retarget");
  private static final int LONGEST_KEY = 100;
  private static final int ATTEMPTS = 3;

  private final IdempotencyKeys keys;
  private final Problems problems;
  private final PlatformTransactionManager transactions;

  /** A body may be as long as a request of parts. */
  private final int longestBodyBytes;

  IdempotencyFilter(
      IdempotencyKeys keys,
      Problems problems,
      PlatformTransactionManager transactions,
      MultipartProperties limits) {
    this.keys = keys;
    this.problems = problems;
    this.transactions = transactions;
    this.longestBodyBytes = Math.toIntExact(limits.getMaxRequestSize().toBytes());
  }

  /** Right after sign-in, which says whose key it is. */
  @Override
  public int getOrder() {
    return SecurityFilterProperties.DEFAULT_FILTER_ORDER + 10;
  }

  @Override
  protected boolean shouldNotFilter(HttpServletRequest request) {
    String path = request.getServletPath();
    return SAFE_METHODS.contains(request.getMethod())
        || WITHOUT_KEY.contains(path)
        || path.startsWith(CALCULATOR);
  }

  @Override
  protected void doFilterInternal(
      HttpServletRequest request, HttpServletResponse response, FilterChain chain)
      throws ServletException, IOException {
    if (request.getServletPath().startsWith(CALCULATIONS)) {
      calculate(request, response, chain);
      return;
    }
    Principal person = request.getUserPrincipal();
    if (person == null) {
      throw new IllegalStateException("a write without a person passed the access rules");
    }
    Write write;
    try {
      write = read(request, person.getName());
    } catch (InvalidInputException e) {
      problems.answer(request, response, problems.of(e));
      return;
    } catch (IllegalStateException | ServletException | FileUploadException e) {
      problems.answer(request, response, unreadable(e));
      return;
    }
    if (write == null) {
      problems.answer(request, response, problems.tooLarge());
      return;
    }
    BufferedResponse buffered = new BufferedResponse(response);
    Problem problem = run(write, buffered, chain);
    if (problem == null) {
      buffered.send();
    } else {
      response.reset();
      problems.answer(request, response, problem);
    }
  }

  /**
   * A calculation stores nothing, so it needs no key; its length is bounded as that of a write.
   * Files are bounded where they are taken apart.
   */
  private void calculate(
      HttpServletRequest request, HttpServletResponse response, FilterChain chain)
      throws ServletException, IOException {
    if (isOfParts(request)) {
      chain.doFilter(request, response);
      return;
    }
    byte[] body = body(request);
    if (body == null) {
      problems.answer(request, response, problems.tooLarge());
    } else {
      chain.doFilter(new RepeatableRequest(request, body), response);
    }
  }

  private static boolean isOfParts(HttpServletRequest request) {
    return StringUtils.startsWithIgnoreCase(request.getContentType(), "multipart/");
  }

  private byte @Nullable [] body(HttpServletRequest request) throws IOException {
    byte[] body = request.getInputStream().readNBytes(longestBodyBytes + 1);
    return body.length > longestBodyBytes ? null : body;
  }

  /**
   * @param key the key that the sender chose
   * @param fingerprint of what is asked for
   */
  private record Write(HttpServletRequest request, String person, String key, String fingerprint) {}

  /** What is asked for, or null if it is too long. */
  private @Nullable Write read(HttpServletRequest request, String person)
      throws IOException, ServletException {
    if (isOfParts(request)) {
      String fingerprint = RequestFingerprint.ofParts(request);
      return new Write(request, person, key(request), fingerprint);
    }
    if (StringUtils.startsWithIgnoreCase(
        request.getContentType(), "application/x-www-form-urlencoded")) {
      return new Write(request, person, key(request), RequestFingerprint.ofForm(request));
    }
    String key = key(request);
    byte[] body = body(request);
    return body == null
        ? null
        : new Write(
            new RepeatableRequest(request, body),
            person,
            key,
            RequestFingerprint.ofBody(request, body));
  }

  private static String key(HttpServletRequest request) {
    String field = HEADER;
    String key = request.getHeader(HEADER);
    if (key == null && !Problems.isApi(request)) {
      field = FIELD;
      key = request.getParameter(FIELD);
    }
    if (key == null || key.isBlank()) {
      throw InvalidInputException.of(field, Sentence.of("problem.keyMissing"));
    }
    if (key.length() > LONGEST_KEY) {
      throw InvalidInputException.of(field, Sentence.of("problem.keyTooLong", LONGEST_KEY));
    }
    return key;
  }

  /**
   * Runs the write, or finds the answer it got before; returns a problem where the answer in the
   * buffer doesn't hold.
   */
  private @Nullable Problem run(Write write, BufferedResponse response, FilterChain chain)
      throws ServletException, IOException {
    TransactionStatus transaction;
    try {
      transaction = transactions.getTransaction(new DefaultTransactionDefinition());
    } catch (RuntimeException e) {
      return problems.of(e);
    }
    try {
      Optional<IdempotencyKeys.Answer> earlier;
      try {
        earlier = claim(write);
      } catch (RuntimeException e) {
        return problems.of(e);
      }
      if (earlier.isPresent()) {
        return replay(write, earlier.get(), response);
      }
      chain.doFilter(write.request(), response);
      if (response.getStatus() >= HttpStatus.BAD_REQUEST.value()) {
        return null;
      }
      if (transaction.isRollbackOnly()) {
        return problems.unexpected(
            new IllegalStateException("answered as done, but the transaction can't be committed"));
      }
      try {
        keep(write, response);
        transactions.commit(transaction);
      } catch (RuntimeException e) {
        return problems.of(e);
      }
      return null;
    } finally {
      if (!transaction.isCompleted()) {
        transactions.rollback(transaction);
      }
    }
  }

  /** Takes the key, or gives the answer that it stands for. */
  private Optional<IdempotencyKeys.Answer> claim(Write write) {
    for (int attempt = 0; attempt < ATTEMPTS; attempt++) {
      if (keys.claim(write.person(), write.key(), write.fingerprint())) {
        return Optional.empty();
      }
      Optional<IdempotencyKeys.Answer> answer = keys.find(write.person(), write.key());
      if (answer.isPresent()) {
        return answer;
      }
    }
    throw new CannotAcquireLockException("the idempotency key is in use");
  }

  private void keep(Write write, BufferedResponse response) {
    boolean secret = ShownOnce.isMarked(write.request());
    keys.complete(
        write.person(),
        write.key(),
        secret ? HttpStatus.GONE.value() : response.getStatus(),
        secret ? Map.of() : keptHeaders(response),
        secret ? new byte[0] : response.body());
  }

  private static @Nullable Problem replay(
      Write write, IdempotencyKeys.Answer answer, BufferedResponse response) {
    if (!answer.fingerprint().equals(write.fingerprint())) {
      return new Problem(
          HttpStatus.UNPROCESSABLE_CONTENT,
          Sentence.of("problem.alreadySent"),
          Sentence.of("problem.alreadySentDetail"),
          List.of(),
          Map.of(USED, "true"));
    }
    if (answer.status() == HttpStatus.GONE.value()) {
      return Problem.of(
          HttpStatus.CONFLICT,
          Sentence.of("problem.alreadyDone"),
          Sentence.of("problem.alreadyDoneDetail"));
    }
    response.setStatus(answer.status());
    answer.headers().forEach(response::setHeader);
    response.setHeader("Idempotency-Replayed", "true");
    response.write(answer.body());
    return null;
  }

  private static Map<String, String> keptHeaders(HttpServletResponse response) {
    Map<String, String> headers = new LinkedHashMap<>();
    for (String name : KEPT_HEADERS) {
      String value = response.getHeader(name);
      if (value != null) {
        headers.put(name, value);
      }
    }
    return headers;
  }

  private Problem unreadable(Exception exception) {
    for (Throwable cause = exception; cause != null; cause = cause.getCause()) {
      if (cause instanceof SizeException) {
        return problems.tooLarge();
      }
    }
    return CommonProblems.brokenUpload();
  }
}
