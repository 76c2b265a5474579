package org.equiphase.measurement;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Records and voids readings. Every change is told to listeners in the same transaction. */
@Service
public class Readings {

  /** How far the clock of whoever tells a time may be ahead. */
  public static final Duration CLOCK_SKEW = Duration.ofMinutes(10);

  private final ReadingTables tables;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;
  private final Clock clock;

  Readings(
      ReadingTables tables,
      WorkOrders workOrders,
      Catalog catalog,
      AuditLog audit,
      ApplicationEventPublisher events,
      Clock clock) {
    this.tables = tables;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.audit = audit;
    this.events = events;
    this.clock = clock;
  }

  public Reading reading(long id) {
    return tables.reading(id).orElseThrow(() -> new NotFoundException("reading", "" + id));
  }

  /** The assembly's last valid reading: the one that counts. */
  public Optional<Reading> latest(long assemblyId) {
    return tables.latest(assemblyId);
  }

  /** Of several assemblies the valid reading recorded last, by assembly. */
  public Map<Long, Reading> latest(List<Long> assemblyIds) {
    return tables.latest(assemblyIds).stream()
        .collect(Collectors.toMap(Reading::assemblyId, Function.identity()));
  }

  /** The valid readings of several assemblies, by assembly, the oldest first. */
  public Map<Long, List<Reading>> valid(List<Long> assemblyIds) {
    return tables.valid(assemblyIds).stream().collect(Collectors.groupingBy(Reading::assemblyId));
  }

  /** All readings of an assembly, voided ones too, the newest first. */
  public List<Reading> history(long assemblyId) {
    return tables.history(assemblyId);
  }

  /** What several readings were taken with, by reading. */
  public Map<Long, ReadingEquipment> equipment(Collection<Long> readingIds) {
    return tables.equipment(readingIds).stream()
        .collect(Collectors.toMap(ReadingEquipment::readingId, Function.identity()));
  }

  /** The sweep behind a reading, where there is one. */
  public Optional<StoredSweep> sweep(long readingId) {
    return tables.sweep(readingId).map(StoredSweep::fromBytes);
  }

  /** Records a reading typed at the bench. */
  @Transactional
  public Reading record(TypedReading typed) {
    Assembly assembly = measurable(typed.serial());
    Bench bench = catalog.bench(typed.benchId());
    Reduction reduction = reducer(assembly, bench).typed(typed);
    return store(
        assembly, bench, Reading.Source.TYPED, typed.temperatureC(), typed.takenAt(), reduction);
  }

  /**
   * Records a file; {@link SweepFiles} keeps it and refuses it a second time. A temperature that
   * the file states goes before the one given.
   */
  @Transactional
  Reading record(
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt,
      MeasurementFile file) {
    Assembly assembly = measurable(serial);
    Bench bench = catalog.bench(benchId);
    double measuredC = Objects.requireNonNullElse(file.temperatureC(), temperatureC);
    Reduction reduction = file.reduce(reducer(assembly, bench), serial, benchId, measuredC);
    return store(assembly, bench, Reading.Source.FILE, measuredC, takenAt, reduction);
  }

  /** Takes a reading out of use; it stays on record with the reason. */
  @Transactional
  public Reading voidReading(long id, String reason) {
    Reading reading = reading(id);
    new Checks().text("reason", reason, 500).done();
    workOrders.refuseReleased(workOrders.assembly(reading.assemblyId()));
    Reading.Voided voided =
        new Reading.Voided(clock.instant().truncatedTo(ChronoUnit.MICROS), Actor.name(), reason);
    if (!tables.voidReading(id, voided)) {
      throw new ConflictException(Sentence.of("reading.voidAlready", id));
    }
    audit.record(
        "READING_VOIDED",
        "assembly",
        workOrders.assembly(reading.assemblyId()).serial(),
        Map.of("reading", id, "reason", reason),
        VoidSeal.seal(id, voided));
    events.publishEvent(new ReadingChanged(reading.assemblyId()));
    return reading(id);
  }

  private Reading store(
      Assembly assembly,
      Bench bench,
      Reading.Source source,
      double temperatureC,
      @Nullable Instant takenAt,
      Reduction reduction) {
    // As fine as the database keeps it, so that the seal fits what is read from there.
    Instant now = clock.instant().truncatedTo(ChronoUnit.MICROS);
    Instant taken = takenAt == null ? now : takenAt.truncatedTo(ChronoUnit.MICROS);
    Checks checks = new Checks();
    if (taken.isAfter(now.plus(CLOCK_SKEW))) {
      checks.problem("takenAt", Sentence.of("reading.inTheFuture", taken.toString()));
    }
    checks.done();
    long id =
        tables.insert(
            assembly.id(), bench, source, temperatureC, taken, now, Actor.name(), reduction);
    StoredSweep sweep = reduction.sweep();
    byte[] points = sweep == null ? null : sweep.toBytes();
    if (sweep != null && points != null) {
      tables.insertSweep(id, sweep.points().size(), points);
    }
    Reading stored =
        reduction.toReading(
            id, assembly.id(), bench, source, temperatureC, taken, now, Actor.name());
    audit.record(
        "READING_RECORDED",
        "assembly",
        assembly.serial(),
        Map.of("reading", id, "bench", bench.name(), "source", source.name()),
        ReadingSeal.seal(stored, ReadingEquipment.of(stored, bench, reduction), points));
    events.publishEvent(new ReadingChanged(assembly.id()));
    return reading(id);
  }

  Assembly measurable(String serial) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    if (assembly.state() == AssemblyState.REPLACED) {
      throw new ConflictException(Sentence.of("reading.replaced", serial));
    }
    if (assembly.state() == AssemblyState.SCRAPPED) {
      throw new ConflictException(Sentence.of("order.scrapped", serial));
    }
    workOrders.refuseReleased(assembly);
    return assembly;
  }

  /** For readings of an assembly at a bench, as both are now. */
  Reducer reducer(Assembly assembly, Bench bench) {
    Specification specification = workOrders.order(assembly.workOrderId()).specification();
    Long stretcherId = assembly.lineStretcherId(specification);
    return new Reducer(
        specification,
        catalog.cableType(specification.cableTypeId()),
        stretcherId == null ? null : catalog.lineStretcher(stretcherId),
        assembly.stretcherSettingMm(),
        bench);
  }
}
