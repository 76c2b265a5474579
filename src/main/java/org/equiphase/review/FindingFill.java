package org.equiphase.review;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/**
 * Fills in, once and behind the scenes, the findings of sets that were planned by a version that
 * kept none. It goes on after a stop where it was.
 */
@Component
class FindingFill {

  private static final Logger LOG = LoggerFactory.getLogger(FindingFill.class);
  private static final int SETS_AT_ONCE = 20;

  private final Findings findings;

  FindingFill(Findings findings) {
    this.findings = findings;
  }

  @EventListener
  void start(ApplicationReadyEvent ready) {
    Thread thread = new Thread(this::fill, "findings-fill");
    thread.setDaemon(true);
    thread.start();
  }

  private void fill() {
    try {
      boolean more;
      do {
        more = findings.fillSome(SETS_AT_ONCE);
      } while (more);
    } catch (RuntimeException e) {
      LOG.warn("The findings of older sets are not all filled in; the next start goes on", e);
    }
  }
}
