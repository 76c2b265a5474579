package org.equiphase.demo;

import org.equiphase.account.DemoAccounts;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.release.Releases;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.DispositionDraft;
import org.equiphase.review.Dispositions;
import org.equiphase.review.ReasonCode;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Component;

/**
 * What QA signed in the demo shop: one feed is released, a cable of the other is to be scrapped.
 */
@Component
@ConditionalOnProperty("equiphase.demo-data")
class DemoDecisions {

  private static final String RELEASED_MEMBER = "DF-001";
  private static final String TO_SCRAP = "DF-006";

  private final WorkOrders workOrders;
  private final Readings readings;
  private final Dispositions dispositions;
  private final Releases releases;

  DemoDecisions(
      WorkOrders workOrders, Readings readings, Dispositions dispositions, Releases releases) {
    this.workOrders = workOrders;
    this.readings = readings;
    this.dispositions = dispositions;
    this.releases = releases;
  }

  void decide() {
    Long setId = workOrders.assemblyBySerial(RELEASED_MEMBER).setId();
    if (setId == null) {
      throw new IllegalStateException(RELEASED_MEMBER + " is in no set");
    }
    releases.release(setId, DemoAccounts.PASSWORD, "Invented release.", null);

    Assembly assembly = workOrders.assemblyBySerial(TO_SCRAP);
    Long readingId = readings.latest(assembly.id()).map(Reading::id).orElse(null);
    dispositions.decide(
        DispositionDraft.plain(
            Kind.SCRAP,
            TO_SCRAP,
            readingId,
            ReasonCode.CONNECTOR_FAULT,
            "The far connector is cracked; no second try (invented)."),
        DemoAccounts.PASSWORD);
  }
}
