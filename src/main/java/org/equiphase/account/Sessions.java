package org.equiphase.account;

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
