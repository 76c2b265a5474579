package org.equiphase.account;

import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.springframework.context.event.EventListener;
import org.springframework.security.authentication.event.AbstractAuthenticationFailureEvent;
import org.springframework.security.authentication.event.InteractiveAuthenticationSuccessEvent;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Notes sign-ins by page, and failed ones by any way. */
@Component
class SignInAudit {

  private static final int LONGEST_NAME = 100;

  private final AuditLog audit;

  SignInAudit(AuditLog audit) {
    this.audit = audit;
  }

  @EventListener
  @Transactional
  public void signedIn(InteractiveAuthenticationSuccessEvent event) {
    audit.record("SIGNED_IN", "person", event.getAuthentication().getName(), Map.of());
  }

  @EventListener
  @Transactional
  public void failed(AbstractAuthenticationFailureEvent event) {
    String name = event.getAuthentication().getName();
    audit.record(
        "SIGN_IN_FAILED",
        "person",
        name.length() > LONGEST_NAME ? name.substring(0, LONGEST_NAME) : name,
        Map.of("reason", event.getException().getClass().getSimpleName()));
  }
}
