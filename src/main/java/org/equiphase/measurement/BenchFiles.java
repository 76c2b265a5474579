package org.equiphase.measurement;

import java.time.Clock;
import java.time.Instant;
import java.util.Optional;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.BenchTemperatures.Noted;
import org.equiphase.measurement.FileOutcome.Kind;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.touchstone.TouchstoneException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Takes the files that a bench sends by itself: records at once what is beyond doubt, keeps the
 * rest for a person, refuses what doesn't read.
 */
@Service
public class BenchFiles {

  private final SweepFiles files;
  private final Readings readings;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final BenchTemperatures temperatures;
  private final Clock clock;

  BenchFiles(
      SweepFiles files,
      Readings readings,
      WorkOrders workOrders,
      Catalog catalog,
      BenchTemperatures temperatures,
      Clock clock) {
    this.files = files;
    this.readings = readings;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.temperatures = temperatures;
    this.clock = clock;
  }

  /**
   * Takes a file.
   *
   * @param temperatureC null for what was noted at the bench; what the file states goes before both
   * @param takenAt null for now
   * @throws FileRefusedException where the file will never do
   * @throws InvalidInputException for {@code temperatureC} where none is known yet
   */
  @Transactional
  public FileOutcome take(
      String name,
      byte[] content,
      long benchId,
      @Nullable Double temperatureC,
      @Nullable Instant takenAt) {
    catalog.bench(benchId);
    if (takenAt != null && takenAt.isAfter(clock.instant().plus(Readings.CLOCK_SKEW))) {
      throw new FileRefusedException(Sentence.of("files.inTheFuture", takenAt.toString()));
    }
    files.lock(content);
    MeasurementFile read;
    try {
      read = MeasurementFile.read(name, content);
    } catch (TouchstoneException | InvalidInputException e) {
      throw new FileRefusedException(e);
    }
    String serial = files.serialOf(name, read).orElse(null);
    Optional<SweepFile> earlier = files.recorded(content);
    if (earlier.isPresent()) {
      return recordedBefore(earlier.get(), serial);
    }
    Optional<SweepFile> waiting = files.waiting(name, content);
    if (waiting.isPresent()) {
      return FileOutcome.of(Kind.WAITING, waiting.get());
    }
    Sentence doubt = serial == null ? null : doubt(serial, takenAt);
    Double measuredC = read.temperatureC() == null ? temperatureC : read.temperatureC();
    if (serial != null && doubt == null && measuredC == null) {
      measuredC = noted(benchId, takenAt);
      doubt = measuredC == null ? Sentence.of("files.noTemperatureThen") : null;
    }
    if (serial == null || measuredC == null || doubt != null) {
      return FileOutcome.of(Kind.WAITING, files.keep(name, content, takenAt, doubt));
    }
    try {
      return FileOutcome.of(
          Kind.RECORDED, files.record(serial, benchId, measuredC, takenAt, name, content, read));
    } catch (InvalidQuantityException e) {
      if (e.field().equals("temperatureC") && read.temperatureC() == null) {
        throw e;
      }
      throw new FileRefusedException(e);
    } catch (InvalidInputException e) {
      throw new FileRefusedException(e);
    }
  }

  /** One sweep saved under the names of two assemblies is a slip that must not pass as done. */
  private static FileOutcome recordedBefore(SweepFile earlier, @Nullable String serial) {
    if (serial != null && !serial.equals(earlier.serial())) {
      throw new FileRefusedException(
          Sentence.of(
              "files.ofAnother",
              String.valueOf(earlier.readingId()),
              String.valueOf(earlier.serial()),
              serial));
    }
    return FileOutcome.of(Kind.RECORDED_BEFORE, earlier);
  }

  /** Why the reading of a known assembly is for a person to decide; null where it isn't. */
  private @Nullable Sentence doubt(String serial, @Nullable Instant takenAt) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    if (assembly.state() == AssemblyState.REPLACED) {
      throw new FileRefusedException(Sentence.of("reading.replaced", serial));
    }
    if (assembly.state() == AssemblyState.SCRAPPED) {
      throw new FileRefusedException(Sentence.of("order.scrapped", serial));
    }
    if (assembly.state() == AssemblyState.RELEASED) {
      throw new FileRefusedException(Sentence.of("order.released", serial));
    }
    // Recorded last would count as newest, and a sweep from before a cut would ask for it again.
    return readings
        .latest(assembly.id())
        .filter(newer -> takenAt != null && newer.takenAt().isAfter(takenAt))
        .map(newer -> Sentence.of("files.measuredBefore", newer.id()))
        .orElse(null);
  }

  /** Null where none was noted around that time, and waiting for one would be in vain. */
  private @Nullable Double noted(long benchId, @Nullable Instant takenAt) {
    Instant now = clock.instant();
    Instant at = takenAt == null ? now : takenAt;
    Optional<Noted> nearest = temperatures.nearest(benchId, at);
    if (nearest.isPresent()) {
      return nearest.get().temperatureC();
    }
    return at.isBefore(now.minus(BenchTemperatures.HOLDS)) ? null : temperatures.present(benchId);
  }
}
