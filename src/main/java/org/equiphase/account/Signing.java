package org.equiphase.account;

import java.util.Map;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/** Signatures: whoever is signed in gives the password once more for each. */
@Service
public class Signing {

  private final Accounts accounts;
  private final AuditLog audit;
  private final TransactionTemplate ownTransaction;

  Signing(Accounts accounts, AuditLog audit, PlatformTransactionManager transactions) {
    this.accounts = accounts;
    this.audit = audit;
    this.ownTransaction = new TransactionTemplate(transactions);
    ownTransaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
  }

  /**
   * The person signed in, whose password this is.
   *
   * @throws InvalidInputException on {@code password} if it is not; the failure stays on record
   */
  public Person confirm(String password) {
    String username = Actor.name();
    Person person = accounts.person(username);
    if (!accounts.hasPassword("password", person, password)) {
      ownTransaction.executeWithoutResult(
          status -> audit.record("SIGNATURE_REFUSED", "person", username, Map.of()));
      throw InvalidInputException.of("password", Sentence.of("account.signingPassword"));
    }
    return person;
  }
}
