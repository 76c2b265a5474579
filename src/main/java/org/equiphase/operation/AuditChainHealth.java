package org.equiphase.operation;

import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.springframework.boot.health.contributor.Health;
import org.springframework.boot.health.contributor.HealthIndicator;
import org.springframework.stereotype.Component;

/** Down where the last check of the audit log found something that is not as it was written. */
@Component("auditChain")
class AuditChainHealth implements HealthIndicator {

  private final ChainChecker checker;

  AuditChainHealth(ChainChecker checker) {
    this.checker = checker;
  }

  @Override
  public Health health() {
    return checker.latest().map(AuditChainHealth::of).orElseGet(() -> Health.unknown().build());
  }

  private static Health of(ChainCheck check) {
    return (check.isIntact() ? Health.up() : Health.down())
        .withDetail("checkedAt", check.at())
        .withDetail("entries", check.entries())
        .withDetail("sealedRows", check.sealedRows())
        .withDetail("brokenLinks", check.linksInAll())
        .withDetail("brokenSeals", check.sealsInAll())
        .build();
  }
}
