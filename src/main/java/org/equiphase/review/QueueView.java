package org.equiphase.review;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.Catalog;
import org.equiphase.review.Finding.Kind;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** What the page of the queue shows. */
@Component
class QueueView {

  private static final int PAGE_SIZE = 50;

  private final Findings findings;
  private final DueCalibrations calibrations;
  private final Dispositions dispositions;
  private final Catalog catalog;
  private final Clock clock;

  QueueView(
      Findings findings,
      DueCalibrations calibrations,
      Dispositions dispositions,
      Catalog catalog,
      Clock clock) {
    this.findings = findings;
    this.calibrations = calibrations;
    this.dispositions = dispositions;
    this.catalog = catalog;
    this.clock = clock;
  }

  /**
   * A kind of finding to choose or to leave out.
   *
   * @param query of the queue after that
   */
  record KindChoice(Kind kind, long count, boolean chosen, String query) {}

  void show(QueueFilter filter, ModelAndView page) {
    Instant now = clock.instant();
    List<Finding> found = findings.find(filter, PAGE_SIZE + 1);
    boolean more = found.size() > PAGE_SIZE;
    List<Finding> shown = more ? found.subList(0, PAGE_SIZE) : found;
    page.addObject("filter", filter)
        .addObject("query", QueueQuery.of(filter))
        .addObject("viewQuery", QueueQuery.of(filter.fromStart()))
        .addObject("allKinds", QueueQuery.of(filter.withKinds(List.of())))
        .addObject("next", more ? QueueQuery.of(filter.after(shown.get(PAGE_SIZE - 1).id())) : null)
        .addObject("findings", shown)
        .addObject("kinds", choices(filter))
        .addObject("cableTypes", catalog.cableTypes())
        .addObject("benches", catalog.benches())
        .addObject("reasonCodes", ReasonCode.values())
        .addObject("calibrations", calibrations.due())
        .addObject("pending", dispositions.countPending())
        .addObject("seenAt", now.truncatedTo(ChronoUnit.MICROS))
        .addObject("today", LocalDate.ofInstant(now, clock.getZone()));
  }

  private List<KindChoice> choices(QueueFilter filter) {
    Map<Kind, Long> counts = findings.counts(filter);
    return Arrays.stream(Kind.values())
        .filter(kind -> counts.containsKey(kind) || filter.kind().contains(kind))
        .map(kind -> choice(kind, counts.getOrDefault(kind, 0L), filter))
        .toList();
  }

  private static KindChoice choice(Kind kind, long count, QueueFilter filter) {
    List<Kind> kinds = new ArrayList<>(filter.kind());
    boolean chosen = kinds.remove(kind);
    if (!chosen) {
      kinds.add(kind);
    }
    return new KindChoice(kind, count, chosen, QueueQuery.of(filter.withKinds(kinds)));
  }
}
