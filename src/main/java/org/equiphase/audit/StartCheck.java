package org.equiphase.audit;

import jakarta.annotation.PreDestroy;
import java.time.Duration;
import java.util.concurrent.CancellationException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Checks the chain once the service has started, while it serves already, and each night. */
@Component
class StartCheck {

  private static final Logger LOG = LoggerFactory.getLogger(StartCheck.class);
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final ChainChecker checker;
  private final SealBeginning beginning;
  private final Thread thread = new Thread(this::run, "audit-check");

  StartCheck(ChainChecker checker, SealBeginning beginning) {
    this.checker = checker;
    this.beginning = beginning;
    thread.setDaemon(true);
  }

  @EventListener(ApplicationReadyEvent.class)
  void start() {
    thread.start();
  }

  /** A service that runs for months must not rely on what was so at its start. */
  @Scheduled(cron = "0 41 2 * * *")
  void again() {
    look(() -> report(checker.check()));
  }

  /** The database must not close under it, and an interrupted file access would close it. */
  @PreDestroy
  void stop() throws InterruptedException {
    checker.stop();
    thread.join(PATIENCE.toMillis());
  }

  /** Returns when the check has ended. */
  void await() throws InterruptedException {
    thread.join();
  }

  private void run() {
    look(
        () -> {
          ChainChecker.Walked walked = checker.walk();
          report(walked.result());
          for (SealWalk rows : walked.rows()) {
            if (!rows.hasBegun()) {
              beginning.begin(rows.seal(), rows.sealed());
            }
          }
        });
  }

  private static void look(Runnable check) {
    try {
      check.run();
    } catch (CancellationException e) {
      LOG.info("The check of the audit log was not finished: {}", e.getMessage());
    } catch (RuntimeException e) {
      LOG.error("The audit log could not be checked", e);
    }
  }

  private static void report(ChainCheck check) {
    if (check.isIntact()) {
      LOG.info(
          "Audit log checked: {} entries and {} sealed rows are as they were written",
          check.entries(),
          check.sealedRows());
    }
    check.links().forEach(link -> LOG.error("Audit log broken: {}", link.what()));
    check.seals().forEach(seal -> LOG.error("Sealed row broken: {}", seal.what()));
  }
}
