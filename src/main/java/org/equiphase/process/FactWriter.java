package org.equiphase.process;

import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.measurement.DriftChanged;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingChanged;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceCheck;
import org.equiphase.measurement.ReferenceChecked;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.process.AssemblyFacts.Subject;
import org.equiphase.process.FactTables.Start;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Keeps the charts' values true to readings and cuts, in the transaction that changes them. A set
 * is always locked before its assemblies, as planning does, so that no two writers wait for each
 * other.
 */
@Service
class FactWriter {

  private final FactTables tables;
  private final AssemblyFacts facts;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final ReferenceChecks referenceChecks;

  FactWriter(
      FactTables tables,
      AssemblyFacts facts,
      WorkOrders workOrders,
      Readings readings,
      ReferenceChecks referenceChecks) {
    this.tables = tables;
    this.facts = facts;
    this.workOrders = workOrders;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
  }

  @EventListener
  @Transactional
  public void on(ReadingChanged event) {
    Assembly assembly = workOrders.assembly(event.assemblyId());
    if (assembly.setId() != null) {
      workOrders.lockSet(assembly.setId());
    }
    write(assembly);
  }

  @EventListener
  @Transactional
  public void on(DriftChanged event) {
    event.assemblyIds().stream()
        .map(workOrders::assembly)
        .sorted(Comparator.comparing(a -> a.setId() == null ? Long.MAX_VALUE : a.setId()))
        .forEach(
            assembly -> {
              if (assembly.setId() != null) {
                workOrders.lockSet(assembly.setId());
              }
              write(assembly);
            });
  }

  /**
   * A check earlier than all before becomes the baseline, and moves what was counted from theirs.
   */
  @EventListener
  @Transactional
  public void on(ReferenceChecked event) {
    ReferenceCheck check = event.check();
    if (referenceChecks.baseline(check).id() == check.id()) {
      referenceChecks
          .next(check)
          .ifPresent(
              old ->
                  tables.shiftDrift(
                      series(check), check.benchId(), referenceChecks.driftDeg(old, check)));
    }
    write(check);
  }

  /** Writes the drift that a check shows. */
  void write(ReferenceCheck check) {
    tables.insert(
        new ProcessValue(
            0,
            series(check),
            check.takenAt(),
            null,
            check.cableSerial(),
            null,
            null,
            null,
            check.benchId(),
            check.recordedBy(),
            "",
            "",
            null,
            referenceChecks.driftDeg(check, referenceChecks.baseline(check)),
            null,
            null));
  }

  private static Series series(ReferenceCheck check) {
    return new Series(
        0, Characteristic.DRIFT, check.frequencyHz(), check.cableSerial(), check.method().name());
  }

  /**
   * Writes what follows from an assembly's valid readings now, and takes out what no longer does.
   */
  void write(Assembly assembly) {
    Start start = tables.lock(assembly.id());
    List<Reading> valid =
        readings.valid(List.of(assembly.id())).getOrDefault(assembly.id(), List.of());
    start = started(start, assembly, valid);
    Subject subject = facts.subject(assembly);
    List<ProcessValue> now = facts.of(subject, valid, start);
    List<ProcessValue> stored = tables.of(List.of(assembly.id()));
    Set<Long> validIds = valid.stream().map(Reading::id).collect(Collectors.toSet());
    for (ProcessValue old : stored) {
      boolean charted = Characteristic.charted().contains(old.series().characteristic());
      boolean voided = old.readingId() != null && !validIds.contains(old.readingId());
      if (voided || (charted && now.stream().noneMatch(old::same))) {
        tables.delete(old);
      }
    }
    now.stream().filter(v -> stored.stream().noneMatch(v::same)).forEach(tables::insert);
  }

  /** The start as it is now: with another first reading it is where the assembly now stands. */
  private Start started(Start start, Assembly assembly, List<Reading> valid) {
    Long first = valid.isEmpty() ? null : valid.get(0).id();
    Start now = start.in(assembly.setId());
    if (!Objects.equals(first, start.firstReadingId())) {
      SetPosition position = position(assembly);
      now =
          new Start(
              assembly.id(),
              assembly.setId(),
              first,
              position == null ? 0 : position.offsetPhaseDeg(),
              position == null ? 0 : position.offsetDelayPs());
    }
    if (!now.equals(start)) {
      tables.update(now);
    }
    return now;
  }

  private @Nullable SetPosition position(Assembly assembly) {
    return assembly.setId() == null
        ? null
        : workOrders.set(assembly.setId()).positions().stream()
            .filter(p -> Objects.equals(p.id(), assembly.positionId()))
            .findFirst()
            .orElse(null);
  }
}
