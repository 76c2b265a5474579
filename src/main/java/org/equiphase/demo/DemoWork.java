package org.equiphase.demo;

import static org.equiphase.demo.DemoFiles.number;
import static org.equiphase.demo.DemoFiles.table;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.measurement.SweepFile;
import org.equiphase.measurement.SweepFiles;
import org.equiphase.measurement.TypedReading;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.rf.Method;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.stereotype.Component;

/** What was done at the benches, brought in step by step in the order of time. */
@Component
@ConditionalOnProperty("equiphase.demo-data")
class DemoWork {

  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final SweepFiles sweepFiles;
  private final ReferenceChecks referenceChecks;
  private final Adjustments adjustments;

  DemoWork(
      Catalog catalog,
      WorkOrders workOrders,
      Readings readings,
      SweepFiles sweepFiles,
      ReferenceChecks referenceChecks,
      Adjustments adjustments) {
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.readings = readings;
    this.sweepFiles = sweepFiles;
    this.referenceChecks = referenceChecks;
    this.adjustments = adjustments;
  }

  /** One thing done, mornings by the one technician, afternoons by the other. */
  private record Step(Instant at, Runnable work) {

    private static final LocalTime SHIFT_CHANGE = LocalTime.NOON;

    String technician(Duration shift) {
      LocalTime written = LocalTime.ofInstant(at.minus(shift), ZoneOffset.UTC);
      return written.isBefore(SHIFT_CHANGE) ? "technician" : "technician2";
    }
  }

  /** When the last check in the files was made; nothing in them is later. */
  Instant last() {
    return table("reference-checks.csv").stream()
        .map(row -> Instant.parse(row.get("takenAt")))
        .max(Comparator.naturalOrder())
        .orElseThrow();
  }

  /** Does it all. */
  void log(Duration shift, DemoPeople people) {
    Map<String, Long> benchIds = new LinkedHashMap<>();
    for (Bench bench : catalog.benches()) {
      benchIds.put(bench.name(), bench.id());
    }
    List<Step> steps = new ArrayList<>();
    for (CSVRecord row : table("reference-checks.csv")) {
      Instant at = at(row, "takenAt", shift);
      steps.add(new Step(at, () -> check(row, bench(benchIds, row), at)));
    }
    for (CSVRecord row : table("sweeps.csv")) {
      Instant at = at(row, "takenAt", shift);
      steps.add(new Step(at, () -> sweep(row, bench(benchIds, row), at)));
    }
    Map<String, List<CSVRecord>> typed = new LinkedHashMap<>();
    for (CSVRecord row : table("typed-readings.csv")) {
      String key = row.get("takenAt") + row.get("serial");
      typed.computeIfAbsent(key, k -> new ArrayList<>()).add(row);
    }
    for (List<CSVRecord> rows : typed.values()) {
      Instant at = at(rows.get(0), "takenAt", shift);
      steps.add(new Step(at, () -> typed(rows, bench(benchIds, rows.get(0)), at)));
    }
    for (CSVRecord row : table("cuts.csv")) {
      steps.add(new Step(at(row, "doneAt", shift), () -> cut(row, shift)));
    }
    steps.sort(Comparator.comparing(Step::at));
    steps.forEach(step -> people.as(step.technician(shift), step.work()));
  }

  private void check(CSVRecord row, long benchId, Instant at) {
    referenceChecks.record(
        benchId,
        row.get("cableSerial"),
        Method.valueOf(row.get("method")),
        number(row, "frequencyHz"),
        number(row, "phaseDeg"),
        number(row, "temperatureC"),
        at);
  }

  private void sweep(CSVRecord row, long benchId, Instant at) {
    String path = row.get("file");
    SweepFile file =
        sweepFiles.upload(path.substring(path.lastIndexOf('/') + 1), DemoFiles.bytes(path));
    sweepFiles.confirm(
        file.id(),
        file.version(),
        Objects.requireNonNull(file.serial()),
        benchId,
        number(row, "temperatureC"),
        at);
  }

  private void typed(List<CSVRecord> rows, long benchId, Instant at) {
    CSVRecord first = rows.get(0);
    readings.record(
        new TypedReading(
            first.get("serial"),
            benchId,
            null,
            number(first, "temperatureC"),
            at,
            rows.stream()
                .map(
                    row ->
                        new TypedSpot(
                            number(row, "frequencyHz"),
                            number(row, "phaseDeg"),
                            optional(row, "insertionLossDb"),
                            optional(row, "vswr")))
                .toList()));
  }

  private void cut(CSVRecord row, Duration shift) {
    long assemblyId = workOrders.assemblyBySerial(row.get("serial")).id();
    Instruction instruction =
        adjustments.history(assemblyId).stream()
            .filter(i -> i.state() == Instruction.State.ISSUED)
            .findFirst()
            .orElseThrow(() -> new IllegalStateException(row.get("serial") + " has no cut to do"));
    adjustments.signOff(
        instruction.id(),
        instruction.version(),
        number(row, "doneTrimMm"),
        null,
        row.get("note"),
        at(row, "doneAt", shift));
  }

  private static Instant at(CSVRecord row, String column, Duration shift) {
    return Instant.parse(row.get(column)).plus(shift);
  }

  private static long bench(Map<String, Long> benchIds, CSVRecord row) {
    String name = row.get("bench");
    return Objects.requireNonNull(benchIds.get(name), "bench " + name);
  }

  private static @Nullable Double optional(CSVRecord row, String column) {
    String text = row.get(column);
    return text.isEmpty() ? null : Double.valueOf(text);
  }
}
