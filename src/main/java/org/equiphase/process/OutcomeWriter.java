package org.equiphase.process;

import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.adjustment.SetPlanned;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.process.AssemblyFacts.Subject;
import org.equiphase.process.FactTables.Start;
import org.equiphase.process.VelocityTables.LotValue;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.ReviewTerms;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Keeps what became of each assembly: whether it came into tolerance at the first pass, why it was
 * held or out, and what its lot's cuts have taught. The set is locked by whoever planned it.
 */
@Service
class OutcomeWriter {

  /** With more signed-off adjustments than that it was no first pass. */
  static final int MOST_ADJUSTMENTS = 1;

  private static final Series FIRST_PASS = Series.of(Characteristic.FIRST_PASS, 0);
  private static final Series CAUSE = Series.of(Characteristic.CAUSE, 0);

  private final FactTables tables;
  private final VelocityTables velocities;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final Adjustments adjustments;
  private final Clock clock;

  OutcomeWriter(
      FactTables tables,
      VelocityTables velocities,
      WorkOrders workOrders,
      Readings readings,
      Adjustments adjustments,
      Clock clock) {
    this.tables = tables;
    this.velocities = velocities;
    this.workOrders = workOrders;
    this.readings = readings;
    this.adjustments = adjustments;
    this.clock = clock;
  }

  @EventListener
  @Transactional
  public void on(SetPlanned event) {
    SetPlan plan = event.plan();
    List<Long> memberIds = plan.members().stream().map(m -> m.assembly().id()).toList();
    List<ProcessValue> stored = outcomes(memberIds);
    for (MemberPlan member : plan.members()) {
      Subject subject = Subject.of(member.assembly(), plan.order());
      List<ProcessValue> own =
          stored.stream()
              .filter(v -> Objects.equals(v.assemblyId(), member.assembly().id()))
              .toList();
      boolean held = cause(subject, member, own);
      decided(subject, member, own, held);
    }
    tables.startsIn(plan.set().id()).stream()
        .filter(start -> !memberIds.contains(start.assemblyId()))
        .forEach(this::left);
    learned(plan);
  }

  private List<ProcessValue> outcomes(List<Long> assemblyIds) {
    return tables.of(assemblyIds).stream()
        .filter(v -> !Characteristic.charted().contains(v.series().characteristic()))
        .toList();
  }

  /** Notes why a member is held or out, once for each cause; answers whether it ever was. */
  private boolean cause(Subject subject, MemberPlan member, List<ProcessValue> own) {
    List<ProcessValue> causes =
        own.stream().filter(v -> v.series().characteristic() == Characteristic.CAUSE).toList();
    boolean out =
        member.verdict() == Verdict.OUT
            || member.verdict() == Verdict.HELD
            || member.verdict() == Verdict.SCRAPPED;
    if (!out) {
      return !causes.isEmpty();
    }
    Cause cause = Cause.of(member);
    if (causes.stream().noneMatch(v -> v.cause() == cause)) {
      Reading reading = member.verdict() == Verdict.OUT ? member.reading() : null;
      tables.insert(
          reading == null
              ? byPerson(subject, cause, member.reading())
              : subject.value(CAUSE, reading, null, cause, 1, null, null));
    }
    return true;
  }

  /** A person's decision stays on record when the reading it was made on is voided. */
  private ProcessValue byPerson(Subject subject, Cause cause, @Nullable Reading reading) {
    Assembly assembly = subject.assembly();
    return new ProcessValue(
        0,
        CAUSE,
        clock.instant(),
        assembly.id(),
        assembly.serial(),
        null,
        null,
        subject.cableTypeId(),
        reading == null ? null : reading.benchId(),
        reading == null ? "" : reading.recordedBy(),
        subject.lot(),
        subject.order().number(),
        cause,
        1,
        null,
        null);
  }

  private void decided(
      Subject subject, MemberPlan member, List<ProcessValue> own, boolean everHeld) {
    Reading reading = member.reading();
    Optional<ProcessValue> before = firstPass(own);
    boolean decided =
        member.verdict() == Verdict.IN_TOLERANCE
            || member.verdict() == Verdict.CONCEDED
            || member.verdict() == Verdict.SCRAPPED;
    if (!decided || reading == null) {
      before.ifPresent(tables::delete);
      return;
    }
    boolean clean =
        member.verdict() == Verdict.IN_TOLERANCE
            && !everHeld
            && member.assembly().terms().equals(ReviewTerms.NONE);
    boolean known =
        before
            .filter(v -> Objects.equals(v.readingId(), reading.id()) && (v.value() == 0 || clean))
            .isPresent();
    if (!known) {
      before.ifPresent(tables::delete);
      tables.insert(firstPass(subject, reading, clean && adjustments(member) <= MOST_ADJUSTMENTS));
    }
  }

  private long adjustments(MemberPlan member) {
    return adjustments.history(member.assembly().id()).stream()
        .filter(i -> i.done() != null)
        .count();
  }

  private static ProcessValue firstPass(Subject subject, Reading reading, boolean passed) {
    return subject.value(FIRST_PASS, reading, null, null, passed ? 1 : 0, null, null);
  }

  private static Optional<ProcessValue> firstPass(List<ProcessValue> own) {
    return own.stream()
        .filter(v -> v.series().characteristic() == Characteristic.FIRST_PASS)
        .findFirst();
  }

  /** One that was replaced is decided; one that went back to the pool is open again. */
  private void left(Start start) {
    tables.update(tables.lock(start.assemblyId()).in(null));
    Assembly assembly = workOrders.assembly(start.assemblyId());
    List<ProcessValue> own = outcomes(List.of(assembly.id()));
    boolean replaced =
        assembly.state() == AssemblyState.REPLACED || assembly.state() == AssemblyState.SCRAPPED;
    Optional<Reading> reading = readings.latest(assembly.id());
    if (replaced && reading.isPresent()) {
      if (firstPass(own).filter(v -> v.value() == 0).isEmpty()) {
        firstPass(own).ifPresent(tables::delete);
        Subject subject = Subject.of(assembly, workOrders.order(assembly.workOrderId()));
        tables.insert(firstPass(subject, reading.get(), false));
      }
    } else {
      firstPass(own).ifPresent(tables::delete);
    }
  }

  private void learned(SetPlan plan) {
    SetPlan.Velocity v = plan.velocity();
    if (v.cuts() == 0) {
      return;
    }
    LotValue now =
        new LotValue(
            0,
            plan.cableType().id(),
            v.lot(),
            lastReading(plan),
            v.velocityFactor(),
            v.standardUncertainty(),
            v.cuts());
    if (velocities.last(now.cableTypeId(), now.lot()).filter(now::same).isEmpty()) {
      velocities.insert(now);
    }
  }

  private Instant lastReading(SetPlan plan) {
    return plan.members().stream()
        .map(MemberPlan::reading)
        .flatMap(Stream::ofNullable)
        .map(Reading::takenAt)
        .max(Instant::compareTo)
        .orElseGet(clock::instant);
  }
}
