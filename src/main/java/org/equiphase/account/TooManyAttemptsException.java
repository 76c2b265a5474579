package org.equiphase.account;

import java.time.Duration;
import org.equiphase.web.Sentence;
import org.springframework.security.core.AuthenticationException;

/** Refuses a password unseen, since too many wrong ones came before it. */
final class TooManyAttemptsException extends AuthenticationException {

  private final long waitSeconds;

  TooManyAttemptsException(Duration wait) {
    super("too many attempts");
    this.waitSeconds = wait.plusNanos(999_999_999).toSeconds();
  }

  long waitSeconds() {
    return waitSeconds;
  }

  Sentence words() {
    return Sentence.of("account.tooManyAttempts", waitSeconds);
  }
}
