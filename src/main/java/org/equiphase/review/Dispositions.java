package org.equiphase.review;

import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.account.Person;
import org.equiphase.account.Signing;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.Disposition.Signature.Meaning;
import org.equiphase.review.Disposition.State;
import org.equiphase.review.DispositionTables.Row;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * QA's decisions about nonconforming assemblies, each signed with the password. What a decision
 * says takes effect with its last signature.
 */
@Service
public class Dispositions {

  private final DispositionTables tables;
  private final DispositionRecords records;
  private final DispositionSeal seal;
  private final DispositionEffects effects;
  private final ReviewRules rules;
  private final Signing signing;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final Catalog catalog;
  private final AuditLog audit;
  private final Clock clock;

  Dispositions(
      DispositionTables tables,
      DispositionRecords records,
      DispositionSeal seal,
      DispositionEffects effects,
      ReviewRules rules,
      Signing signing,
      WorkOrders workOrders,
      Readings readings,
      Catalog catalog,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.records = records;
    this.seal = seal;
    this.effects = effects;
    this.rules = rules;
    this.signing = signing;
    this.workOrders = workOrders;
    this.readings = readings;
    this.catalog = catalog;
    this.audit = audit;
    this.clock = clock;
  }

  @Transactional(readOnly = true)
  public Disposition disposition(long id) {
    return records.disposition(id);
  }

  /** The decisions about an assembly and those that named it, the newest first. */
  @Transactional(readOnly = true)
  public List<Disposition> of(long assemblyId) {
    return records.concerning(assemblyId);
  }

  /** The decisions ever made about members of a set, the newest first. */
  @Transactional(readOnly = true)
  public List<Disposition> ofSet(long setId) {
    return tables.assembliesDecidedIn(setId).stream()
        .flatMap(id -> records.about(id).stream())
        .filter(d -> Objects.equals(d.setId(), setId))
        .sorted((a, b) -> Long.compare(b.id(), a.id()))
        .toList();
  }

  /** The decisions that wait for a second signature, the oldest first. */
  @Transactional(readOnly = true)
  public List<Disposition> pending(int most) {
    return tables.assembliesOpen(most).stream()
        .flatMap(id -> records.about(id).stream())
        .filter(d -> d.state() == State.PENDING)
        .toList();
  }

  /** How many decisions wait for a second signature. */
  @Transactional(readOnly = true)
  public long pendingCount() {
    return tables.openCount();
  }

  /**
   * The numbers that a decision would be made on now.
   *
   * @throws ConflictException where they forbid it
   */
  @Transactional(readOnly = true)
  DecisionNumbers preview(Assembly assembly, Kind kind) {
    if (kind.needsSet() && assembly.setId() == null) {
      throw new ConflictException(Sentence.of("disposition.noSet", assembly.serial()));
    }
    return effects.numbers(assembly, kind, latestReading(assembly));
  }

  /** Decides about an assembly and signs it. */
  @Transactional
  public Disposition decide(DispositionDraft draft, String password) {
    draft.check(catalog);
    return decide(draft, signing.confirm(password));
  }

  /** The same for a signer whose password was confirmed in this request. */
  @Transactional
  Disposition decide(DispositionDraft draft, Person signer) {
    draft.check(catalog);
    Assembly assembly = workOrders.assemblyBySerial(Objects.requireNonNull(draft.serial()).strip());
    effects.lock(assembly, draft.terms());
    assembly = workOrders.assembly(assembly.id());
    Kind kind = draft.kindGiven();
    Long readingId = latestReading(assembly);
    refuseStale(draft, assembly, readingId);
    workOrders.refuseReleased(assembly);
    if (assembly.isGone() && !(kind == Kind.REPLACE && assembly.setId() != null)) {
      throw new ConflictException(Sentence.of("disposition.gone", assembly.serial()));
    }
    if (kind.needsSet() && assembly.setId() == null) {
      throw new ConflictException(Sentence.of("disposition.noSet", assembly.serial()));
    }
    DecisionNumbers numbers = effects.numbers(assembly, kind, readingId);
    Disposition before = standing(assembly.id());
    boolean needsSecond = rules.settings().needsSecond(kind);
    Instant now = clock.instant().truncatedTo(ChronoUnit.MICROS);
    Signature decided =
        new Signature(signer.username(), signer.displayName(), now, Meaning.DECIDED, "");
    Row row = row(draft, assembly, numbers, needsSecond, before);
    long id = tables.insert(row.sealed(DispositionSeal.content(row, decided)));
    tables.sign(id, 0, decided);
    if (before != null && before.state() == State.PENDING) {
      tables.close(before.id());
    }
    Disposition disposition = records.disposition(id);
    audit.record(
        "DISPOSITION_DECIDED",
        "assembly",
        assembly.serial(),
        details(disposition),
        seal.sealed(id));
    if (needsSecond) {
      tables.open(id);
      effects.await(assembly, disposition);
    } else {
      effects.apply(disposition);
    }
    return records.disposition(id);
  }

  /**
   * Agrees to a decision that waits, or declines it.
   *
   * @param text why; needed to decline
   */
  @Transactional
  public Disposition countersign(long id, boolean agrees, String text, String password) {
    Checks checks = new Checks();
    if (!agrees) {
      checks.text("text", text, 500);
    } else if (text.length() > 500) {
      checks.problem("text", Sentence.of("problem.textTooLong", text.length(), 500));
    }
    checks.done();
    Person signer = signing.confirm(password);
    Disposition found = records.disposition(id);
    effects.lock(workOrders.assembly(found.assemblyId()), found.terms());
    Disposition waiting = records.disposition(id);
    if (waiting.state() != State.PENDING || !tables.close(id)) {
      throw new ConflictException(
          Sentence.of("disposition.notWaiting", id, waiting.state().words()));
    }
    if (waiting.decided().person().equals(signer.username())) {
      throw InvalidInputException.of(
          "password", Sentence.of("disposition.secondPerson", signer.displayName()));
    }
    Assembly assembly = workOrders.assembly(waiting.assemblyId());
    if (agrees && !Objects.equals(waiting.readingId(), latestReading(assembly))) {
      throw new ConflictException(Sentence.of("disposition.newerReading", assembly.serial()));
    }
    String revision = workOrders.presentRevision(assembly.serial());
    if (agrees && !waiting.observed().revision().equals(revision)) {
      throw new ConflictException(
          Sentence.of("disposition.revisedSince", waiting.observed().revision(), revision));
    }
    Instant now = clock.instant().truncatedTo(ChronoUnit.MICROS);
    tables.sign(
        id,
        1,
        new Signature(
            signer.username(),
            signer.displayName(),
            now,
            agrees ? Meaning.AGREED : Meaning.DECLINED,
            text));
    audit.record(
        agrees ? "DISPOSITION_AGREED" : "DISPOSITION_DECLINED",
        "assembly",
        waiting.serial(),
        Map.of("disposition", id, "text", text),
        seal.sealed(id));
    if (agrees) {
      effects.apply(waiting);
    } else {
      effects.decline(assembly);
    }
    return records.disposition(id);
  }

  /** The decision that a new one about the assembly supersedes; null for none. */
  private @Nullable Disposition standing(long assemblyId) {
    return records.about(assemblyId).stream().filter(Disposition::stands).findFirst().orElse(null);
  }

  private @Nullable Long latestReading(Assembly assembly) {
    return readings.latest(assembly.id()).map(Reading::id).orElse(null);
  }

  private void refuseStale(DispositionDraft draft, Assembly assembly, @Nullable Long readingId) {
    if (!Objects.equals(draft.readingId(), readingId)) {
      throw new ConflictException(Sentence.of("disposition.newerReading", assembly.serial()));
    }
    Long after = draft.after();
    if (after != null) {
      records.about(assembly.id()).stream()
          .findFirst()
          .filter(newest -> newest.id() != after)
          .ifPresent(
              newest -> {
                throw new ConflictException(
                    Sentence.of(
                        "disposition.decidedMeanwhile",
                        assembly.serial(),
                        newest.decided().displayName(),
                        newest.kind().words()));
              });
    }
  }

  private Row row(
      DispositionDraft draft,
      Assembly assembly,
      DecisionNumbers numbers,
      boolean needsSecond,
      @Nullable Disposition before) {
    var terms = draft.terms();
    String otherSerial = terms.otherSerial();
    return new Row(
        0,
        draft.kindGiven(),
        assembly.id(),
        assembly.setId(),
        draft.readingId(),
        Objects.requireNonNull(draft.reasonCode()),
        Objects.requireNonNull(draft.text()).strip(),
        terms.extraTrimMm(),
        terms.tooShortLimit(),
        terms.lineStretcherId(),
        terms.stretcherStartMm(),
        otherSerial == null ? null : workOrders.assemblyBySerial(otherSerial).id(),
        terms.newSerial(),
        numbers.toJson(),
        needsSecond,
        before == null ? null : before.id(),
        "");
  }

  private static Map<String, Object> details(Disposition disposition) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("disposition", disposition.id());
    details.put("kind", disposition.kind().name());
    details.put("reasonCode", disposition.reasonCode().name());
    details.put("text", disposition.text());
    details.put("terms", disposition.terms().toString());
    details.put("needsSecond", disposition.needsSecond());
    details.put("sha256", disposition.sha256());
    if (disposition.readingId() != null) {
      details.put("reading", disposition.readingId());
    }
    if (disposition.supersedesId() != null) {
      details.put("supersedes", disposition.supersedesId());
    }
    return details;
  }
}
