package org.equiphase.gauge;

import java.security.SecureRandom;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.account.Accounts;
import org.equiphase.account.Role;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Captures;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Plans gauge studies and takes their values. They are no readings: no set is planned by them. */
@Service
public class Studies {

  private final StudyTables tables;
  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final Accounts accounts;
  private final Captures captures;
  private final AuditLog audit;
  private final Clock clock;
  private final SecureRandom random = new SecureRandom();

  Studies(
      StudyTables tables,
      Catalog catalog,
      WorkOrders workOrders,
      Accounts accounts,
      Captures captures,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.accounts = accounts;
    this.captures = captures;
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

  /**
   * Values, struck ones too.
   *
   * @throws ConflictException as long as they are closed to the person signed in
   */
  @Transactional(readOnly = true)
  public List<StudyValue> values(long id) {
    Study study = study(id);
    if (!open(study)) {
      throw new ConflictException(Sentence.of("gauge.blind", study.name()));
    }
    return tables.values(id);
  }

  /**
   * Whether the person signed in may see values: nobody who measures shall know any before the last
   * is taken, so meanwhile only QA who don't measure in the study may.
   */
  @Transactional(readOnly = true)
  boolean open(Study study) {
    String me = Actor.name();
    return study.state() != Study.State.RUNNING
        || (!study.appraisers().contains(me) && accounts.person(me).has(Role.QA));
  }

  /** How many values count. */
  @Transactional(readOnly = true)
  int taken(Study study) {
    return (int) tables.values(study.id()).stream().filter(v -> v.struckAt() == null).count();
  }

  /** What waits for the person signed in at a bench. */
  @Transactional(readOnly = true)
  public List<Waiting> waiting(long benchId) {
    return tables.running(benchId, Actor.name()).stream()
        .map(study -> new Waiting(study, progress(study).left()))
        .filter(waiting -> waiting.left() > 0)
        .toList();
  }

  /** A measurement of a person by its number among theirs, from 1. */
  record Step(int number, Turn turn, String serial) {}

  /**
   * How far the person signed in is; never a value.
   *
   * @param asked what comes next; null when they are done
   * @param last what was taken last; null before the first
   */
  record Progress(@Nullable Step asked, @Nullable Step last, int left, int all) {}

  @Transactional(readOnly = true)
  Progress progress(Study study) {
    int appraiser = appraiser(study);
    Set<Turn> taken =
        tables.values(study.id()).stream()
            .filter(v -> v.struckAt() == null && v.appraiser() == appraiser)
            .map(StudyValue::turn)
            .collect(Collectors.toSet());
    Step asked = null;
    Step last = null;
    int number = 0;
    List<Turn> turns = Turn.of(study, appraiser);
    for (Turn turn : turns) {
      Step step = new Step(++number, turn, study.parts().get(turn.part()));
      if (taken.contains(turn)) {
        last = step;
      } else {
        asked = step;
        break;
      }
    }
    return new Progress(asked, last, turns.size() - taken.size(), turns.size());
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
   * Takes the value of the person signed in that is asked for.
   *
   * @param turn the number of the measurement that is answered; a value sent twice is thus never
   *     taken for the next
   * @param serial the part that was connected, as scanned
   */
  @Transactional
  public Study record(long id, int turn, String serial, double phaseDeg) {
    return record(id, turn, serial, phaseDeg, false);
  }

  /**
   * Takes it from the bench's instrument, which is asked before anything is locked or written.
   *
   * @param turn the number of the measurement that is answered
   * @param serial the part that is connected, as scanned
   */
  @Transactional
  public Study capture(long id, int turn, String serial) {
    Study study = requireRunning(study(id));
    requireAsked(study, turn, serial);
    double phaseDeg = captures.shownPhaseDeg(serial.strip(), study.benchId(), study.frequencyHz());
    return record(id, turn, serial, phaseDeg, true);
  }

  private Study record(long id, int turn, String serial, double phaseDeg, boolean captured) {
    Study study = locked(id);
    new Checks().inRange("phaseDeg", phaseDeg, -1e6, 1e6).done();
    Step asked = requireAsked(study, turn, serial);
    StudyValue value = tables.insertValue(id, asked.turn(), phaseDeg, captured, clock.instant());
    // Without the phase: those who read the log may be measuring.
    audit.record(
        "GAUGE_VALUE_TAKEN",
        "gauge study",
        "" + id,
        Map.of("part", asked.serial(), "trial", asked.turn().trial() + 1, "captured", captured),
        StudyValueSeal.seal(value));
    if (taken(study) == study.measurements()) {
      require(tables.setState(study, Study.State.COMPLETE, ""), study);
      audit.record("GAUGE_STUDY_COMPLETE", "gauge study", "" + id, Map.of());
    }
    return study(id);
  }

  private Step requireAsked(Study study, int turn, String serial) {
    Step asked = progress(study).asked();
    if (asked == null) {
      throw new ConflictException(Sentence.of("gauge.allDone", study.name()));
    }
    if (turn != asked.number()) {
      throw new ConflictException(
          Sentence.of(
              turn < asked.number() ? "gauge.takenBefore" : "gauge.notYet",
              turn,
              asked.number(),
              asked.serial()));
    }
    if (!serial.strip().equals(asked.serial())) {
      throw InvalidInputException.of(
          "serial", Sentence.of("gauge.wrongPart", serial.strip(), asked.serial()));
    }
    return asked;
  }

  /** Strikes out the last value of the person signed in; it stays on record. */
  @Transactional
  public Study strike(long id, String reason) {
    Study study = locked(id);
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
            "part", study.parts().get(last.part()), "trial", last.trial() + 1, "reason", reason));
    return study;
  }

  @Transactional
  public Study cancel(long id, int version, String reason) {
    Study study = locked(id);
    new Checks().text("reason", reason, 500).done();
    if (study.version() != version) {
      throw new ConflictException(Sentence.of("gauge.changed", study.name()));
    }
    require(tables.setState(study, Study.State.CANCELLED, reason), study);
    audit.record("GAUGE_STUDY_CANCELLED", "gauge study", "" + id, Map.of("reason", reason));
    return study(id);
  }

  private Study locked(long id) {
    return requireRunning(
        tables.lock(id).orElseThrow(() -> new NotFoundException("gauge study", "" + id)));
  }

  private static Study requireRunning(Study study) {
    if (study.state() != Study.State.RUNNING) {
      throw new ConflictException(
          Sentence.of("gauge.notRunning", study.name(), study.state().words()));
    }
    return study;
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
