package org.equiphase.bench;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.measurement.BenchTemperatures;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.SweepFiles;
import org.equiphase.measurement.TypedReading;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Figure;
import org.equiphase.web.Format;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What a technician does to the assembly before them. Where someone else has done something to it
 * since the technician looked, nothing is stored, and they are told who and when.
 */
@Service
class BenchWork {

  private final WorkOrders workOrders;
  private final Readings readings;
  private final SweepFiles files;
  private final Adjustments adjustments;
  private final BenchTemperatures temperatures;

  BenchWork(
      WorkOrders workOrders,
      Readings readings,
      SweepFiles files,
      Adjustments adjustments,
      BenchTemperatures temperatures) {
    this.workOrders = workOrders;
    this.readings = readings;
    this.files = files;
    this.adjustments = adjustments;
    this.temperatures = temperatures;
  }

  /**
   * A reading as it comes from the page.
   *
   * @param seenReadingId the assembly's last reading when the page was made, 0 for none; null does
   *     not ask
   * @param takenAt when it was taken, where it was sent later; null for now
   */
  record Logged(
      String serial, long benchId, @Nullable Long seenReadingId, @Nullable Instant takenAt) {}

  /** Logs phases as typed. */
  @Transactional
  void log(Logged logged, BenchForm form) {
    Assembly assembly = unchanged(logged);
    readings.record(
        new TypedReading(
            logged.serial,
            logged.benchId,
            null,
            temperatureC(logged, form.temperatureC()),
            logged.takenAt,
            spots(assembly, form)));
  }

  /** Logs a file. */
  @Transactional
  void log(Logged logged, String temperatureC, String fileName, byte[] content) {
    unchanged(logged);
    files.record(
        logged.serial,
        logged.benchId,
        temperatureC(logged, temperatureC),
        logged.takenAt,
        fileName,
        content);
  }

  @Transactional
  void signOff(
      long instructionId,
      int version,
      @Nullable Double doneTrimMm,
      @Nullable Double doneSettingMm,
      String note,
      @Nullable Instant doneAt) {
    Instruction instruction = adjustments.instruction(instructionId);
    lock(workOrders.assembly(instruction.assemblyId()));
    instruction = adjustments.instruction(instructionId);
    String serial = workOrders.assembly(instruction.assemblyId()).serial();
    Instruction.Done done = instruction.done();
    if (done != null) {
      Double amountMm = done.trimMm() == null ? done.settingMm() : done.trimMm();
      throw conflict(
          Sentence.of(
              done.trimMm() == null ? "bench.conflict.set" : "bench.conflict.cut",
              serial,
              done.by(),
              Format.PLAIN.time(done.at()),
              Figure.plain(amountMm == null ? 0 : amountMm)));
    }
    refuseOther(instruction.assemblyId(), serial, instruction.readingId());
    adjustments.signOff(instructionId, version, doneTrimMm, doneSettingMm, note, doneAt);
  }

  @Transactional
  void voidReading(long id, String reason) {
    Reading reading = readings.reading(id);
    Assembly assembly = workOrders.assembly(reading.assemblyId());
    lock(assembly);
    refuseVoided(readings.reading(id), assembly.serial());
    readings.voidReading(id, reason);
  }

  /**
   * The assembly, if nobody has measured it, or voided its reading, since the technician looked.
   */
  private Assembly unchanged(Logged logged) {
    Assembly assembly = workOrders.assemblyBySerial(logged.serial);
    if (logged.seenReadingId != null) {
      lock(assembly);
      refuseOther(assembly.id(), assembly.serial(), logged.seenReadingId);
    }
    return assembly;
  }

  /** One at a time from here on, so that the second sees what the first has done. */
  private void lock(Assembly assembly) {
    Long setId = assembly.setId();
    if (setId != null) {
      workOrders.lockSet(setId);
    }
  }

  private void refuseOther(long assemblyId, String serial, long seenReadingId) {
    Optional<Reading> latest = readings.latest(assemblyId);
    if (latest.map(Reading::id).orElse(0L) == seenReadingId) {
      return;
    }
    if (seenReadingId != 0) {
      refuseVoided(readings.reading(seenReadingId), serial);
    }
    Reading newer = latest.orElseThrow();
    throw conflict(
        Sentence.of(
            "bench.conflict.reading",
            serial,
            newer.recordedBy(),
            Format.PLAIN.time(newer.recordedAt())));
  }

  private static void refuseVoided(Reading reading, String serial) {
    Reading.Voided voided = reading.voided();
    if (voided != null) {
      throw conflict(
          Sentence.of(
              "bench.conflict.void",
              serial,
              voided.by(),
              Format.PLAIN.time(voided.at()),
              voided.reason()));
    }
  }

  private static ConflictException conflict(Sentence sentence) {
    return new ConflictException(sentence);
  }

  /** What was typed, which then holds for the bench; else what was noted at the bench. */
  private double temperatureC(Logged logged, String typed) {
    Double temperatureC = Numbers.readOptional("temperatureC", typed);
    if (temperatureC == null) {
      return temperatures.present(logged.benchId);
    }
    if (logged.takenAt == null) {
      temperatures.note(logged.benchId, temperatureC);
    }
    return temperatureC;
  }

  private List<TypedSpot> spots(Assembly assembly, BenchForm form) {
    List<FrequencySpecification> frequencies =
        workOrders.order(assembly.workOrderId()).specification().frequencies();
    List<TypedSpot> spots = new ArrayList<>();
    for (int k = 0; k < frequencies.size(); k++) {
      spots.add(
          new TypedSpot(
              frequencies.get(k).frequencyHz(),
              Numbers.read("phaseDeg[" + k + "]", form.phase(k)),
              Numbers.readOptional("lossDb[" + k + "]", form.loss(k)),
              Numbers.readOptional("vswr[" + k + "]", form.vswrAt(k))));
    }
    return spots;
  }
}
