package org.equiphase.release;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.ReadingEquipment;
import org.equiphase.measurement.Readings;
import org.equiphase.release.Hindrance.Kind;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.SetPosition;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.util.UriComponentsBuilder;

/** Finds all that stands against the release of a set. */
@Component
class Hindrances {

  private final Catalog catalog;
  private final Readings readings;
  private final Concessions concessions;

  Hindrances(Catalog catalog, Readings readings, Concessions concessions) {
    this.catalog = catalog;
    this.readings = readings;
    this.concessions = concessions;
  }

  List<Hindrance> of(SetPlan plan) {
    List<Hindrance> found = new ArrayList<>();
    String setLink = "/sets/" + plan.set().id();
    if (plan.set().releasedAt() != null) {
      found.add(
          new Hindrance(
              Kind.ALREADY_RELEASED,
              plan.set().name(),
              Sentence.of("release.hinders.released"),
              setLink));
    }
    for (SetPosition position : plan.set().positions()) {
      if (plan.members().stream().noneMatch(m -> m.position().id() == position.id())) {
        found.add(
            new Hindrance(
                Kind.POSITION_EMPTY,
                position.label(),
                Sentence.of("release.hinders.empty", position.label()),
                setLink));
      }
    }
    Map<Long, ReadingEquipment> equipment =
        readings.equipment(
            plan.members().stream()
                .map(MemberPlan::reading)
                .filter(Objects::nonNull)
                .map(Reading::id)
                .toList());
    for (MemberPlan member : plan.members()) {
      found.addAll(ofMember(member, equipment));
    }
    return found;
  }

  private List<Hindrance> ofMember(MemberPlan member, Map<Long, ReadingEquipment> equipment) {
    List<Hindrance> found = new ArrayList<>();
    String serial = member.assembly().serial();
    boolean good = member.verdict() == Verdict.IN_TOLERANCE || member.verdict() == Verdict.CONCEDED;
    if (!good) {
      found.add(
          new Hindrance(
              Kind.NOT_IN_TOLERANCE,
              serial,
              member.reason().toString().isEmpty()
                  ? Sentence.of("release.hinders.noReason", serial)
                  : Sentence.of("release.hinders.notIn", serial, member.reason()),
              link("/bench", "serial", serial)));
    }
    ReadingDrift drift = member.drift();
    if (good && drift != null && drift.state() == ReadingDrift.State.CHECK_DUE) {
      found.add(
          new Hindrance(
              Kind.DRIFT,
              serial,
              Sentence.of("release.hinders.drift", serial, drift.text()),
              link("/bench", "serial", serial)));
    }
    Reading reading = member.reading();
    if (reading != null) {
      found.addAll(overdue(serial, reading, Objects.requireNonNull(equipment.get(reading.id()))));
    }
    concessions
        .pending(member.assembly())
        .forEach(
            id ->
                found.add(
                    new Hindrance(
                        Kind.DISPOSITION_PENDING,
                        serial,
                        Sentence.of("release.hinders.pending", serial),
                        "/review/dispositions/" + id)));
    return found;
  }

  private List<Hindrance> overdue(String serial, Reading reading, ReadingEquipment used) {
    LocalDate day = LocalDate.ofInstant(reading.takenAt(), ZoneId.systemDefault());
    Instrument instrument = catalog.instrument(used.instrumentId());
    Bench bench = catalog.bench(used.benchId());
    List<Hindrance> found = new ArrayList<>();
    if (past(used.instrumentCalibrationDue(), instrument.calibrationDue(), day)) {
      found.add(overdue("/catalog/instruments/" + instrument.id(), serial, instrument.name()));
    }
    if (past(used.benchCalibrationDue(), bench.calibrationDue(), day)) {
      found.add(overdue("/catalog/benches/" + bench.id(), serial, bench.name()));
    }
    return found;
  }

  private static Hindrance overdue(String link, String serial, String what) {
    return new Hindrance(
        Kind.CALIBRATION, serial, Sentence.of("release.hinders.calibration", serial, what), link);
  }

  /** A calibration still holds on the day that it is due. */
  private static boolean past(@Nullable LocalDate kept, LocalDate present, LocalDate day) {
    return Objects.requireNonNullElse(kept, present).isBefore(day);
  }

  private static String link(String path, String name, String value) {
    return UriComponentsBuilder.fromPath(path)
        .queryParam(name, "{value}")
        .encode()
        .buildAndExpand(value)
        .toUriString();
  }
}
