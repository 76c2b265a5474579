package org.equiphase.workbook;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Adjustments.SignOff;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.TypedReading;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.web.Figure;
import org.equiphase.web.Format;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workbook.RowOutcome.Change;
import org.equiphase.workbook.RowOutcome.Verdict;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Compares filled-in rows with how things stand now. */
@Component
class Judge {

  private static final double SAME = 1e-9;

  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final Readings readings;
  private final Catalog catalog;
  private final Clock clock;

  Judge(
      WorkOrders workOrders,
      Adjustments adjustments,
      Readings readings,
      Catalog catalog,
      Clock clock) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
    this.readings = readings;
    this.catalog = catalog;
    this.clock = clock;
  }

  /**
   * A row with what is to be stored of it.
   *
   * @param signOff null where no work is to be signed off
   * @param reading null where none is to be recorded
   */
  record Judged(
      RowOutcome outcome,
      @Nullable SignOff signOff,
      @Nullable TypedReading reading,
      @Nullable String initials) {

    boolean isToStore() {
      return outcome.verdict() == Verdict.STORE;
    }

    Judged refused(Sentence why) {
      return new Judged(outcome.refused(why), null, null, initials);
    }
  }

  /** Rows that tell nothing are left out. */
  List<Judged> judge(WorkOrder order, List<FilledRow> rows) {
    Map<String, Integer> firstRows = new HashMap<>();
    LocalDate today = LocalDate.now(clock);
    List<Judged> judged = new ArrayList<>();
    for (FilledRow row : rows) {
      Integer first = firstRows.putIfAbsent(row.serial(), row.number());
      Case one = new Case(order, row);
      try {
        if (first != null) {
          throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.twice", first));
        }
        one.judge(today).ifPresent(judged::add);
      } catch (Refusal e) {
        judged.add(new Judged(one.outcome(e.verdict, e.reason), null, null, null));
      }
    }
    return judged;
  }

  /** Ends the look at a row. */
  private static final class Refusal extends RuntimeException {
    private final Verdict verdict;
    private final Sentence reason;

    Refusal(Verdict verdict, Sentence reason) {
      super(reason.toString());
      this.verdict = verdict;
      this.reason = reason;
    }
  }

  /** One row. */
  private final class Case {

    private final WorkOrder order;
    private final FilledRow row;
    private final List<Change> changes = new ArrayList<>();

    Case(WorkOrder order, FilledRow row) {
      this.order = order;
      this.row = row;
    }

    RowOutcome outcome(Verdict verdict, @Nullable Sentence reason) {
      return new RowOutcome(row.number(), row.serial(), verdict, reason, changes);
    }

    Optional<Judged> judge(LocalDate today) {
      Assembly assembly =
          workOrders
              .findAssembly(row.serial())
              .filter(a -> a.workOrderId() == order.id())
              .orElseThrow(
                  () ->
                      new Refusal(
                          Verdict.UNKNOWN, Sentence.of("workbook.row.unknown", order.number())));
      RowKey key = key(assembly);
      Entry entry = entry(today);
      if (!entry.tellsWork() && !entry.tellsReading()) {
        return Optional.empty();
      }
      Instruction asked = key.instructionId() == 0 ? null : instruction(key, assembly);
      SignOff signOff = entry.tellsWork() ? work(key, entry, asked) : null;
      TypedReading reading =
          entry.tellsReading() ? reading(assembly, key, entry, asked, signOff) : null;
      boolean already = signOff == null && reading == null;
      if (!already && entry.initials() == null) {
        throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.noInitials"));
      }
      return Optional.of(
          new Judged(
              outcome(already ? Verdict.ALREADY : Verdict.STORE, null),
              signOff,
              reading,
              entry.initials()));
    }

    private RowKey key(Assembly assembly) {
      RowKey key =
          RowKey.read(row.key())
              .orElseThrow(() -> new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.noKey")));
      if (!key.fits(row.key(), row.serial()) || key.assemblyId() != assembly.id()) {
        throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.shifted"));
      }
      return key;
    }

    private Entry entry(LocalDate today) {
      try {
        return Entry.read(row, order.specification().frequencies().size(), today);
      } catch (Entry.BadCellsException e) {
        throw new Refusal(Verdict.REFUSED, e.words());
      }
    }

    private Instruction instruction(RowKey key, Assembly assembly) {
      try {
        Instruction instruction = adjustments.instruction(key.instructionId());
        if (instruction.assemblyId() == assembly.id()) {
          return instruction;
        }
      } catch (NotFoundException e) {
        // Told below: a key with a right hash that names no instruction of the assembly.
      }
      throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.shifted"));
    }

    /** The sign-off to store; null where the same is stored already. */
    private @Nullable SignOff work(RowKey key, Entry entry, @Nullable Instruction asked) {
      if (asked == null) {
        throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.notAsked"));
      }
      Instruction.Done done = asked.done();
      boolean cut = asked.action() == Instruction.Action.TRIM;
      Double value = cut ? entry.cutMm() : entry.settingMm();
      if (value != null) {
        changes.add(
            new Change(
                Field.of(cut ? Kind.DONE_CUT : Kind.DONE_SETTING).head(),
                done == null
                    ? Sentence.of("workbook.now.asked", asked(asked))
                    : Sentence.of(
                        "workbook.now.done", Figure.plain(value(done)), done.by(), time(done.at())),
                Sentence.of("workbook.would", Figure.plain(value))));
      }
      if (done != null) {
        if (same(done.trimMm(), entry.cutMm()) && same(done.settingMm(), entry.settingMm())) {
          return null;
        }
        throw new Refusal(
            Verdict.CONFLICT, Sentence.of("workbook.row.signedOff", done.by(), time(done.at())));
      }
      boolean newer =
          readings.latest(asked.assemblyId()).map(r -> r.id() != asked.readingId()).orElse(true);
      if (asked.state() != Instruction.State.ISSUED || asked.version() != key.version() || newer) {
        throw new Refusal(Verdict.STALE, Sentence.of("workbook.row.stale", asked.id()));
      }
      return new SignOff(
          asked.id(),
          asked.version(),
          entry.cutMm(),
          entry.settingMm(),
          Sentence.of("workbook.note", Objects.requireNonNullElse(entry.initials(), "")).toString(),
          entry.doneAt());
    }

    private static double value(Instruction.Done done) {
      Double trimMm = done.trimMm();
      return trimMm == null ? Objects.requireNonNull(done.settingMm()) : trimMm;
    }

    private static Figure asked(Instruction asked) {
      Double settingMm = asked.settingMm();
      return Figure.plain(settingMm == null ? asked.trimMm() : settingMm);
    }

    /** The reading to store; null where the same is stored already. */
    private @Nullable TypedReading reading(
        Assembly assembly,
        RowKey key,
        Entry entry,
        @Nullable Instruction asked,
        @Nullable SignOff signOff) {
      TypedReading typed = typed(entry);
      List<Reading> newer =
          readings.history(assembly.id()).stream()
              .filter(reading -> reading.id() > key.readingId())
              .toList();
      Optional<Reading> other =
          newer.stream()
              .filter(reading -> reading.voided() == null)
              .max(Comparator.comparing(Reading::id));
      Optional<Reading> now = other.or(() -> readings.latest(assembly.id()));
      for (int k = 0; k < typed.spots().size(); k++) {
        int spot = k;
        TypedSpot told = typed.spots().get(k);
        changes.add(
            new Change(
                new Field(Kind.PHASE, k, told.frequencyHz()).head(),
                now.map(
                        r ->
                            Sentence.of(
                                "workbook.now.read",
                                Figure.of(r.spots().get(spot).measuredPhaseDeg(), 2),
                                r.id(),
                                r.recordedBy()))
                    .orElseGet(() -> Sentence.of("workbook.now.none")),
                Sentence.of("workbook.would", Figure.plain(told.phaseDeg()))));
      }
      if (newer.stream().anyMatch(reading -> same(reading, typed))) {
        return null;
      }
      if (other.isPresent()) {
        throw new Refusal(
            Verdict.CONFLICT,
            Sentence.of(
                "workbook.row.newerReading",
                other.get().id(),
                other.get().recordedBy(),
                time(other.get().takenAt())));
      }
      if (signOff == null && asked != null && asked.state() == Instruction.State.ISSUED) {
        throw new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.workNotTold"));
      }
      return typed;
    }

    private TypedReading typed(Entry entry) {
      List<FrequencySpecification> frequencies = order.specification().frequencies();
      List<TypedSpot> spots = new ArrayList<>();
      for (int k = 0; k < frequencies.size(); k++) {
        double frequencyHz = frequencies.get(k).frequencyHz();
        Double phaseDeg = entry.phaseDeg().get(k);
        if (phaseDeg == null) {
          throw missing(new Field(Kind.PHASE, k, frequencyHz));
        }
        spots.add(new TypedSpot(frequencyHz, phaseDeg, entry.lossDb().get(k), entry.vswr().get(k)));
      }
      Double temperatureC = entry.temperatureC();
      if (temperatureC == null) {
        throw missing(Field.of(Kind.TEMPERATURE));
      }
      return new TypedReading(
          row.serial(), bench(entry).id(), null, temperatureC, entry.doneAt(), spots);
    }

    private Bench bench(Entry entry) {
      String name = entry.bench();
      if (name == null) {
        throw missing(Field.of(Kind.BENCH));
      }
      return catalog
          .benchByName(name)
          .orElseThrow(
              () -> new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.noBench", name)));
    }

    private Refusal missing(Field field) {
      return new Refusal(Verdict.REFUSED, Sentence.of("workbook.row.missing", field.head()));
    }
  }

  private static Sentence time(Instant at) {
    return Sentence.said(Format.PLAIN.time(at));
  }

  private static boolean same(@Nullable Double one, @Nullable Double other) {
    return one == null || other == null
        ? Objects.equals(one, other)
        : Math.abs(one - other) <= SAME;
  }

  private static boolean same(Reading stored, TypedReading typed) {
    if (stored.benchId() != typed.benchId()
        || !same(stored.temperatureC(), typed.temperatureC())
        || stored.spots().size() != typed.spots().size()) {
      return false;
    }
    for (int k = 0; k < stored.spots().size(); k++) {
      double apart = stored.spots().get(k).measuredPhaseDeg() - typed.spots().get(k).phaseDeg();
      if (Math.abs(WrappedPhase.wrapDeg(apart)) > SAME) {
        return false;
      }
    }
    return true;
  }
}
