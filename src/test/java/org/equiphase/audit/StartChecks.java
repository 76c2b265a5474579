package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import org.equiphase.RunningService;

/** Waits for the check at the start, which runs beside the service. */
final class StartChecks {

  private StartChecks() {}

  static ChainCheck await(RunningService service) throws InterruptedException {
    service.bean(StartCheck.class).await();
    ChainChecker checker = service.bean(ChainChecker.class);
    assertThat(checker.latest()).isPresent();
    return checker.latest().orElseThrow();
  }
}
