package org.equiphase.measurement;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Semaphore;
import java.util.function.Supplier;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.ScpiConnection;
import org.equiphase.measurement.scpi.CapturedSweep;
import org.equiphase.measurement.scpi.SweepCapture;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Method;
import org.equiphase.rf.Sweep;
import org.equiphase.rf.touchstone.FrequencyUnit;
import org.equiphase.rf.touchstone.NumberFormat;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneVersion;
import org.equiphase.rf.touchstone.TouchstoneWriter;
import org.equiphase.rf.touchstone.WriteOptions;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Figure;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;

/**
 * Readings captured from a bench's instrument over the network. The sweep becomes a Touchstone file
 * and is recorded as one, so that it is kept, hashed and found like an uploaded one.
 *
 * <p>The instrument is asked before anything is written, so no row waits for it but the request's
 * own idempotency key; a database connection does, and so only a few may capture at once.
 */
@Service
public class Captures {

  private static final int AT_ONCE = 4;
  private static final WriteOptions FORM =
      new WriteOptions(TouchstoneVersion.V1, NumberFormat.RI, FrequencyUnit.HZ);
  private static final DateTimeFormatter NAME_TIME =
      DateTimeFormatter.ofPattern("uuuuMMdd'T'HHmmss.SSS'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final SweepFiles files;
  private final BenchTemperatures temperatures;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;
  private final Clock clock;
  private final Map<String, Use> inUse = new ConcurrentHashMap<>();
  private final Semaphore free = new Semaphore(AT_ONCE);

  Captures(
      Catalog catalog,
      WorkOrders workOrders,
      Readings readings,
      SweepFiles files,
      BenchTemperatures temperatures,
      AuditLog audit,
      ApplicationEventPublisher events,
      Clock clock) {
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.readings = readings;
    this.files = files;
    this.temperatures = temperatures;
    this.audit = audit;
    this.events = events;
    this.clock = clock;
  }

  /** Who talks to an instrument, about what, and since when. */
  private record Use(String person, Sentence what, Instant since) {}

  /**
   * Takes a sweep of the assembly that is connected, and records it.
   *
   * @param temperatureC of the assembly; null takes what was noted at the bench
   * @throws ConflictException if the bench's instrument has no connection or is being asked
   * @throws org.equiphase.measurement.scpi.ScpiException if the sweep did not come; nothing is
   *     stored then
   */
  public Reading capture(String serial, long benchId, @Nullable Double temperatureC) {
    new Checks().text("serial", serial, 80).done();
    Assembly assembly = readings.measurable(serial);
    Bench bench = catalog.bench(benchId);
    Instrument instrument = bench.instrument();
    ScpiConnection connection = connection(instrument);
    double celsius = temperatureC == null ? temperatures.present(benchId) : temperatureC;
    new Checks().inRange("temperatureC", celsius, -100, 300).done();
    Method method = workOrders.order(assembly.workOrderId()).specification().method();
    CapturedSweep sweep = sweep(serial, bench, celsius, method);

    Instant takenAt = clock.instant().truncatedTo(ChronoUnit.MILLIS);
    String name =
        "%s-%s.%s"
            .formatted(serial, NAME_TIME.format(takenAt), method.isReflection() ? "s1p" : "s2p");
    byte[] content = touchstone(sweep, serial, bench, takenAt, connection.referenceOhm());
    Reading reading = files.record(serial, benchId, celsius, takenAt, name, content);
    audit.record(
        "SWEEP_CAPTURED",
        "assembly",
        serial,
        Map.of(
            "reading", reading.id(), "instrument", instrument.name(), "answers", sweep.identity()));
    return reading;
  }

  /**
   * Takes a sweep of the assembly that is connected, for its phase at one frequency as the
   * instrument shows it, in (−180, 180]; between two points it is interpolated as in a reading.
   * Nothing is recorded.
   *
   * @throws ConflictException if the bench's instrument has no connection, is being asked, or does
   *     not sweep over the frequency
   * @throws org.equiphase.measurement.scpi.ScpiException if the sweep did not come
   */
  public double shownPhaseDeg(String serial, long benchId, double frequencyHz) {
    Assembly assembly =
        workOrders
            .findAssembly(serial)
            .orElseThrow(() -> new NotFoundException("assembly", serial));
    Bench bench = catalog.bench(benchId);
    Specification specification = workOrders.order(assembly.workOrderId()).specification();
    double celsius =
        temperatures
            .holding(benchId)
            .map(BenchTemperatures.Noted::temperatureC)
            .orElse(specification.referenceTemperatureC());
    CapturedSweep sweep = sweep(serial, bench, celsius, specification.method());
    double[] hertz = sweep.frequenciesHz().stream().mapToDouble(Double::doubleValue).toArray();
    if (frequencyHz < hertz[0] || frequencyHz > hertz[hertz.length - 1]) {
      throw new ConflictException(
          Sentence.of(
              "capture.notSwept",
              bench.instrument().name(),
              Figure.plain(hertz[0] / 1e9),
              Figure.plain(hertz[hertz.length - 1] / 1e9),
              Figure.plain(frequencyHz / 1e9)));
    }
    List<Complex> values = sweep.values().get(0);
    Sweep measured =
        Sweep.of(
                hertz,
                values.stream().mapToDouble(Complex::re).toArray(),
                values.stream().mapToDouble(Complex::im).toArray())
            .withReferenceOhm(connection(bench.instrument()).referenceOhm());
    return readings.reducer(assembly, bench).shownDeg(measured, frequencyHz);
  }

  private CapturedSweep sweep(String serial, Bench bench, double celsius, Method method) {
    List<String> parameters = method.isReflection() ? List.of("S11") : List.of("S21", "S11");
    ScpiConnection connection = connection(bench.instrument());
    return alone(
        bench.instrument().name(),
        connection,
        Sentence.said(serial),
        () -> {
          events.publishEvent(new CaptureStarting(serial, bench.id(), celsius));
          return SweepCapture.capture(connection, parameters);
        });
  }

  /** Asks an instrument what it is, to see whether its connection works. */
  public String identify(long instrumentId) {
    Instrument instrument = catalog.instrument(instrumentId);
    ScpiConnection connection = connection(instrument);
    return alone(
        instrument.name(),
        connection,
        Sentence.of("capture.aTest"),
        () -> SweepCapture.identify(connection));
  }

  private static ScpiConnection connection(Instrument instrument) {
    ScpiConnection connection = instrument.connection();
    if (connection == null) {
      throw new ConflictException(Sentence.of("capture.noConnection", instrument.name()));
    }
    return connection;
  }

  /** An instrument answers one program at a time; whoever comes second is told of the first. */
  private <T> T alone(
      String instrument, ScpiConnection connection, Sentence what, Supplier<T> talk) {
    String key = connection.host().toLowerCase(Locale.ROOT) + ":" + connection.port();
    Use mine = new Use(Actor.name(), what, clock.instant().truncatedTo(ChronoUnit.SECONDS));
    Use other = inUse.putIfAbsent(key, mine);
    if (other != null) {
      throw new ConflictException(
          Sentence.of(
              "capture.inUse", instrument, other.person, other.since.toString(), other.what));
    }
    try {
      if (!free.tryAcquire()) {
        throw new ConflictException(Sentence.of("capture.tooMany", AT_ONCE));
      }
      try {
        if (!catalog.takeLine(connection)) {
          throw new ConflictException(Sentence.of("capture.inUseElsewhere", instrument));
        }
        return talk.get();
      } finally {
        free.release();
      }
    } finally {
      inUse.remove(key, mine);
    }
  }

  /** S12 and S22 were not measured; the file says so and holds zeros, as the format wants them. */
  private static byte[] touchstone(
      CapturedSweep sweep, String serial, Bench bench, Instant takenAt, double referenceOhm) {
    boolean transmission = sweep.values().size() == 2;
    int points = sweep.frequenciesHz().size();
    Complex[][][] s = new Complex[points][][];
    for (int i = 0; i < points; i++) {
      Complex first = sweep.values().get(0).get(i);
      s[i] =
          transmission
              ? new Complex[][] {
                {sweep.values().get(1).get(i), Complex.ZERO}, {first, Complex.ZERO}
              }
              : new Complex[][] {{first}};
    }
    double[] ohm =
        transmission ? new double[] {referenceOhm, referenceOhm} : new double[] {referenceOhm};
    StringBuilder text = new StringBuilder();
    comment(text, serial + ", captured " + takenAt + " at " + bench.name());
    comment(text, bench.instrument().name() + ": " + sweep.identity());
    if (transmission) {
      comment(text, "S21 and S11 are measured; S12 and S22 are not, and stand as 0.");
    }
    try {
      TouchstoneWriter.write(
          TouchstoneFile.of(
              ohm,
              sweep.frequenciesHz().stream().mapToDouble(Double::doubleValue).toArray(),
              s,
              List.of()),
          FORM,
          text);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString().getBytes(StandardCharsets.US_ASCII);
  }

  private static void comment(StringBuilder text, String line) {
    text.append("! ").append(line.replaceAll("[^ -~]", "?")).append('\n');
  }
}
