package org.equiphase.gauge;

import java.security.SecureRandom;
import java.time.Clock;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.account.Accounts;
import org.equiphase.account.Role;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Plans gauge studies and takes their values. They are no readings: no set is planned by them. */
@Service
public class Studies {

  private final StudyTables tables;
  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final Accounts accounts;
  private final AuditLog audit;
  private final Clock clock;
  private final SecureRandom random = new SecureRandom();

  Studies(
      StudyTables tables,
      Catalog catalog,
      WorkOrders workOrders,
      Accounts accounts,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.accounts = accounts;
    this.audit = audit;
    this.clock = clock;
  }

  /** A study that waits for a person at a bench, with how many measurements are left to them. */
  public record Waiting(Study study, int left) {}

  @Transactional(readOnly = true)
  public List<Study> latest() {
    return tables.latest();
  }

  @Transactional(readOnly = true)
  public Study study(long id) {
    return tables.study(id).orElseThrow(() -> new NotFoundException("gauge study", "" + id));
  }

  @Transactional(readOnly = true)
  public List<StudyValue> values(long id) {
    return tables.values(study(id).id());
  }

  /** What waits for the person signed in at a bench. */
  @Transactional(readOnly = true)
  public List<Waiting> waiting(long benchId) {
    return tables.running(benchId, Actor.name()).stream()
        .map(study -> new Waiting(study, left(study)))
        .filter(waiting -> waiting.left() > 0)
        .toList();
  }

  /** The next measurement of the person signed in; empty when theirs are done. */
  @Transactional(readOnly = true)
  Optional<Turn> next(Study study) {
    return next(study, appraiser(study), taken(study.id()));
  }

  /** How many measurements are left to the person signed in. */
  @Transactional(readOnly = true)
  int left(Study study) {
    int appraiser = appraiser(study);
    long done = taken(study.id()).stream().filter(t -> t.appraiser() == appraiser).count();
    return study.parts().size() * study.trials() - (int) done;
  }

  @Transactional
  public Study plan(StudyDraft draft) {
    draft.check();
    catalog.bench(Objects.requireNonNull(draft.benchId()));
    Checks checks = new Checks();
    for (String serial : Objects.requireNonNull(draft.parts())) {
      if (workOrders.findAssembly(serial).isEmpty()) {
        checks.problem("parts", Sentence.of("gauge.unknownPart", serial));
      }
    }
    Set<String> able =
        accounts.people().stream()
            .filter(p -> p.enabled() && (p.has(Role.TECHNICIAN) || p.has(Role.QA)))
            .map(p -> p.username())
            .collect(Collectors.toSet());
    for (String username : Objects.requireNonNull(draft.appraisers())) {
      if (!able.contains(username)) {
        checks.problem("appraisers", Sentence.of("gauge.unknownPerson", username));
      }
    }
    checks.done();
    long seed = draft.seed() == null ? random.nextInt(1_000_000) : draft.seed();
    long id = tables.insert(draft, seed, Actor.name(), clock.instant());
    audit.record(
        "GAUGE_STUDY_PLANNED",
        "gauge study",
        "" + id,
        Map.of(
            "name", Objects.requireNonNull(draft.name()),
            "parts", draft.parts(),
            "appraisers", draft.appraisers(),
            "trials", Objects.requireNonNull(draft.trials()),
            "seed", seed));
    return study(id);
  }

  /**
   * Takes the next value of the person signed in.
   *
   * @param serial the part that was connected, as scanned
   */
  @Transactional
  public Study record(long id, String serial, double phaseDeg) {
    Study study = running(id);
    new Checks().inRange("phaseDeg", phaseDeg, -1e6, 1e6).done();
    Turn turn =
        next(study)
            .orElseThrow(() -> new ConflictException(Sentence.of("gauge.allDone", study.name())));
    String asked = study.parts().get(turn.part());
    if (!serial.strip().equals(asked)) {
      throw InvalidInputException.of(
          "serial", Sentence.of("gauge.wrongPart", serial.strip(), asked));
    }
    tables.insertValue(id, turn, phaseDeg, clock.instant());
    audit.record(
        "GAUGE_VALUE_TAKEN",
        "gauge study",
        "" + id,
        Map.of("part", asked, "trial", turn.trial() + 1, "phaseDeg", phaseDeg));
    if (taken(id).size() == study.measurements()) {
      require(tables.setState(study, Study.State.COMPLETE, ""), study);
      audit.record("GAUGE_STUDY_COMPLETE", "gauge study", "" + id, Map.of());
    }
    return study(id);
  }

  /** Strikes out the last value of the person signed in; it stays on record. */
  @Transactional
  public Study strike(long id, String reason) {
    Study study = running(id);
    new Checks().text("reason", reason, 500).done();
    int appraiser = appraiser(study);
    StudyValue last =
        tables.values(id).stream()
            .filter(v -> v.struckAt() == null && v.appraiser() == appraiser)
            .reduce((first, second) -> second)
            .orElseThrow(() -> new ConflictException(Sentence.of("gauge.nothingToStrike")));
    tables.strike(last.id(), reason, clock.instant());
    audit.record(
        "GAUGE_VALUE_STRUCK",
        "gauge study",
        "" + id,
        Map.of(
            "part",
            study.parts().get(last.part()),
            "trial",
            last.trial() + 1,
            "phaseDeg",
            last.phaseDeg(),
            "reason",
            reason));
    return study;
  }

  @Transactional
  public Study cancel(long id, int version, String reason) {
    Study study = running(id);
    new Checks().text("reason", reason, 500).done();
    if (study.version() != version) {
      throw new ConflictException(Sentence.of("gauge.changed", study.name()));
    }
    require(tables.setState(study, Study.State.CANCELLED, reason), study);
    audit.record("GAUGE_STUDY_CANCELLED", "gauge study", "" + id, Map.of("reason", reason));
    return study(id);
  }

  private Study running(long id) {
    Study study = tables.lock(id).orElseThrow(() -> new NotFoundException("gauge study", "" + id));
    if (study.state() != Study.State.RUNNING) {
      throw new ConflictException(
          Sentence.of("gauge.notRunning", study.name(), study.state().words()));
    }
    return study;
  }

  private Set<Turn> taken(long id) {
    Set<Turn> taken = new HashSet<>();
    tables.values(id).stream().filter(v -> v.struckAt() == null).forEach(v -> taken.add(v.turn()));
    return taken;
  }

  private static Optional<Turn> next(Study study, int appraiser, Set<Turn> taken) {
    return Turn.of(study, appraiser).stream().filter(turn -> !taken.contains(turn)).findFirst();
  }

  private static int appraiser(Study study) {
    int appraiser = study.appraisers().indexOf(Actor.name());
    if (appraiser < 0) {
      throw new ConflictException(
          Sentence.of("gauge.notAppraiser", Actor.name(), String.join(", ", study.appraisers())));
    }
    return appraiser;
  }

  private static void require(boolean updated, Study study) {
    if (!updated) {
      throw new ConflictException(Sentence.of("gauge.changed", study.name()));
    }
  }
}
