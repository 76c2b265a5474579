package org.equiphase.board;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.account.Role;
import org.equiphase.account.SignedIn;
import org.equiphase.bench.OwnWork;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.review.Dispositions;
import org.equiphase.review.Findings;
import org.equiphase.workorder.OrderStandings;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The few numbers that matter to the person who looks. */
@Component
class Glances {

  /** What was before a person longer ago belongs to another shift (common practice, no source). */
  private static final Duration SHIFT = Duration.ofHours(12);

  private final OrderStandings standings;
  private final OwnWork ownWork;
  private final Catalog catalog;
  private final ReferenceChecks referenceChecks;
  private final Findings findings;
  private final Dispositions dispositions;
  private final Boards boards;
  private final Clock clock;

  Glances(
      OrderStandings standings,
      OwnWork ownWork,
      Catalog catalog,
      ReferenceChecks referenceChecks,
      Findings findings,
      Dispositions dispositions,
      Boards boards,
      Clock clock) {
    this.standings = standings;
    this.ownWork = ownWork;
    this.catalog = catalog;
    this.referenceChecks = referenceChecks;
    this.findings = findings;
    this.dispositions = dispositions;
    this.boards = boards;
    this.clock = clock;
  }

  /** What a number counts. */
  enum What {
    MY_ASSEMBLIES("/bench", false),
    LAID_DOWN("/bench", false),
    CHECKS_DUE("/bench", true),
    FINDINGS("/review", false),
    SIGNATURES("/review/dispositions", true),
    OVERDUE("/board", true),
    DUE_SOON("/board", false),
    BLOCKED("/board", true);

    private final String path;
    private final boolean urgent;

    What(String path, boolean urgent) {
      this.path = path;
      this.urgent = urgent;
    }
  }

  /**
   * One number, with the page that tells more.
   *
   * @param urgent whether it should be 0
   */
  record Glance(What what, long number, String path, boolean urgent) {}

  @Transactional(readOnly = true)
  List<Glance> of(SignedIn person) {
    List<Glance> glances = new ArrayList<>();
    if (person.has(Role.TECHNICIAN)) {
      Instant since = clock.instant().minus(SHIFT);
      add(
          glances,
          What.MY_ASSEMBLIES,
          standings.toDo(ownWork.assemblies(person.getUsername(), since)));
      add(glances, What.LAID_DOWN, ownWork.laidDown());
      add(glances, What.CHECKS_DUE, checksDue());
    }
    if (person.has(Role.QA)) {
      add(glances, What.FINDINGS, findings.count());
      add(glances, What.SIGNATURES, dispositions.pendingCount());
    }
    if (person.has(Role.PLANNER)) {
      long overdue = standings.openCount(boards.today().minusDays(1));
      add(glances, What.OVERDUE, overdue);
      add(
          glances,
          What.DUE_SOON,
          standings.openCount(boards.today().plusDays(Boards.SOON_DAYS)) - overdue);
      add(glances, What.BLOCKED, findings.blockedOrders());
    }
    return glances;
  }

  private static void add(List<Glance> glances, What what, long number) {
    glances.add(new Glance(what, number, what.path, what.urgent && number > 0));
  }

  /** Benches whose reference cable is to be measured again, or never was. */
  private long checksDue() {
    Instant now = clock.instant();
    return catalog.benches().stream().filter(bench -> due(bench, now)).count();
  }

  private boolean due(Bench bench, Instant now) {
    return referenceChecks
        .latest(bench.id())
        .map(check -> !bench.nextReferenceCheck(check.takenAt()).isAfter(now))
        .orElse(true);
  }
}
