package org.equiphase.account;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import org.springframework.session.FindByIndexNameSessionRepository;
import org.springframework.session.Session;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Ends sessions on every instance, so that a changed role or password counts at once. */
@Component
class Sessions {

  private final FindByIndexNameSessionRepository<? extends Session> repository;

  Sessions(FindByIndexNameSessionRepository<? extends Session> repository) {
    this.repository = repository;
  }

  /**
   * A place where someone is signed in.
   *
   * @param isPresent whether it is the session that asks
   */
  public record OpenSession(Instant since, Instant lastUsed, boolean isPresent) {}

  /** A person's sessions, the last used first. */
  List<OpenSession> open(String username, String presentId) {
    return repository.findByPrincipalName(username).values().stream()
        .filter(session -> !session.isExpired())
        .map(
            session ->
                new OpenSession(
                    session.getCreationTime(),
                    session.getLastAccessedTime(),
                    session.getId().equals(presentId)))
        .sorted(Comparator.comparing(OpenSession::lastUsed).reversed())
        .toList();
  }

  /** Ends all of a person's sessions once the present transaction has been committed. */
  void endAfterCommit(String username) {
    TransactionSynchronizationManager.registerSynchronization(
        new TransactionSynchronization() {
          @Override
          public void afterCommit() {
            repository.findByPrincipalName(username).keySet().forEach(repository::deleteById);
          }
        });
  }
}
