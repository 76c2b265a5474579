package org.equiphase.review;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.springframework.stereotype.Component;

/** Calibrations of instruments and benches that are overdue, or due before long. */
@Component
class DueCalibrations {

  private final Catalog catalog;
  private final ReviewRules rules;
  private final Clock clock;

  DueCalibrations(Catalog catalog, ReviewRules rules, Clock clock) {
    this.catalog = catalog;
    this.rules = rules;
    this.clock = clock;
  }

  /** One of them; {@code benches} are the places that measure by it. */
  record Due(String name, LocalDate dueOn, boolean overdue, List<String> benches) {}

  /** The longest overdue first. */
  List<Due> due() {
    LocalDate today = LocalDate.ofInstant(clock.instant(), clock.getZone());
    LocalDate horizon = today.plusDays(rules.settings().calibrationDays());
    List<Bench> benches = catalog.benches();
    List<Due> due = new ArrayList<>();
    for (Instrument instrument : catalog.instruments()) {
      if (!instrument.calibrationDue().isAfter(horizon)) {
        due.add(
            new Due(
                instrument.name(),
                instrument.calibrationDue(),
                instrument.calibrationDue().isBefore(today),
                benches.stream()
                    .filter(b -> b.instrument().id() == instrument.id())
                    .map(Bench::name)
                    .toList()));
      }
    }
    for (Bench bench : benches) {
      if (!bench.calibrationDue().isAfter(horizon)) {
        due.add(
            new Due(
                bench.name(),
                bench.calibrationDue(),
                bench.calibrationDue().isBefore(today),
                List.of(bench.name())));
      }
    }
    due.sort(Comparator.comparing(Due::dueOn));
    return due;
  }
}
