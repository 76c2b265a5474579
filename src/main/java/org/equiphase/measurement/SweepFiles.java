package org.equiphase.measurement;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.rf.touchstone.TouchstoneException;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Uploaded Touchstone and CSV files. The serial number is taken from a CSV file's own column, else
 * from the file's name, and shown for confirmation; a file that names no assembly is listed and
 * kept.
 */
@Service
public class SweepFiles {

  private static final int MAX_NAME = 255;

  private final SweepFileTables tables;
  private final Readings readings;
  private final WorkOrders workOrders;
  private final AuditLog audit;
  private final Clock clock;

  SweepFiles(
      SweepFileTables tables,
      Readings readings,
      WorkOrders workOrders,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.readings = readings;
    this.workOrders = workOrders;
    this.audit = audit;
    this.clock = clock;
  }

  /** Files that wait for a person, the oldest first. */
  public List<SweepFile> waiting() {
    return tables.waiting();
  }

  /** The last files that were recorded or discarded. */
  public List<SweepFile> finished(int most) {
    return tables.finished(most);
  }

  public SweepFile file(long id) {
    return tables.file(id).orElseThrow(() -> new NotFoundException("file", "" + id));
  }

  /** Keeps an uploaded file and says which assembly it points to, and what is wrong. */
  @Transactional
  public SweepFile upload(String name, byte[] content) {
    return keep(name, content, null, null);
  }

  /**
   * Keeps a file.
   *
   * @param takenAt when it was measured; null where nobody said
   * @param doubt why a person has to look at it though it reads well; null for none
   */
  @Transactional
  SweepFile keep(String name, byte[] content, @Nullable Instant takenAt, @Nullable Sentence doubt) {
    new Checks().text("file", name, MAX_NAME).done();
    MeasurementFile read = null;
    Sentence problem = doubt;
    try {
      read = MeasurementFile.read(name, content);
    } catch (TouchstoneException e) {
      problem = Sentence.said(String.valueOf(e.getMessage()));
    } catch (InvalidInputException e) {
      problem = FileRefusedException.words(e);
    }
    return keep(name, content, takenAt, read, problem);
  }

  /**
   * @param read null where it doesn't read
   * @param problem why it can't be recorded as it is, as far as known; null for none
   */
  private SweepFile keep(
      String name,
      byte[] content,
      @Nullable Instant takenAt,
      @Nullable MeasurementFile read,
      @Nullable Sentence problem) {
    String sha256 = sha256(content);
    String serial = (read == null ? serialFrom(name) : serialOf(name, read)).orElse(null);
    Sentence found = problem;
    Optional<SweepFile> earlier = tables.recorded(sha256);
    if (earlier.isPresent()) {
      found = Sentence.of("files.sameContent", String.valueOf(earlier.get().readingId()));
    } else if (read != null && serial == null) {
      found = unknown(read.serial());
    }
    SweepFile.State state = found == null ? SweepFile.State.READY : SweepFile.State.UNMATCHED;
    String recorded = found == null ? "" : found.toString();
    long id =
        tables.insert(
            name, sha256, content, clock.instant(), Actor.name(), takenAt, state, serial, recorded);
    audit.record(
        "FILE_UPLOADED",
        "file",
        "" + id,
        Map.of("name", name, "sha256", sha256, "problem", recorded));
    return file(id);
  }

  /**
   * Records a file as a reading of the assembly that the person confirmed.
   *
   * @param takenAt null for what the file's sender said, else now
   */
  @Transactional
  public SweepFile confirm(
      long id,
      int version,
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt) {
    SweepFile file = file(id);
    refuseFinished(file);
    require(file.version() == version, file);
    refuseRecorded(file);
    MeasurementFile read = MeasurementFile.read(file.name(), tables.content(id));
    return finish(file, serial, benchId, temperatureC, takenAt, read);
  }

  private SweepFile finish(
      SweepFile file,
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt,
      MeasurementFile read) {
    refuseOther(read, serial);
    Instant measuredAt = takenAt == null ? file.takenAt() : takenAt;
    Reading reading = readings.record(serial, benchId, temperatureC, measuredAt, read);
    boolean finished =
        tables.finish(
            file.id(), file.version(), SweepFile.State.RECORDED, serial, "", reading.id());
    require(finished, file);
    return file(file.id());
  }

  /** Keeps a file and records it at once, for a person who has the assembly before them. */
  @Transactional
  public Reading record(
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt,
      String name,
      byte[] content) {
    MeasurementFile read = MeasurementFile.read(name, content);
    SweepFile recorded = record(serial, benchId, temperatureC, takenAt, name, content, read);
    return readings.reading(Objects.requireNonNull(recorded.readingId()));
  }

  /** The same for a file that was read already. */
  @Transactional
  SweepFile record(
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt,
      String name,
      byte[] content,
      MeasurementFile read) {
    new Checks().text("file", name, MAX_NAME).done();
    SweepFile file = keep(name, content, takenAt, read, null);
    refuseRecorded(file);
    return finish(file, serial, benchId, temperatureC, takenAt, read);
  }

  /** Puts a file aside for good; it stays listed with the reason. */
  @Transactional
  public SweepFile discard(long id, int version, String reason) {
    SweepFile file = file(id);
    refuseFinished(file);
    new Checks().text("reason", reason, 500).done();
    require(
        tables.finish(id, version, SweepFile.State.DISCARDED, file.serial(), reason, null), file);
    audit.record("FILE_DISCARDED", "file", "" + id, Map.of("reason", reason));
    return file(id);
  }

  /** The serial number of a known assembly in a file name: all of it, or its longest part. */
  Optional<String> serialFrom(String name) {
    String stem = name.replaceFirst("\\.[^.]*$", "");
    for (String candidate : candidates(stem)) {
      Optional<Assembly> assembly = workOrders.findAssembly(candidate);
      if (assembly.isPresent()) {
        return Optional.of(assembly.get().serial());
      }
    }
    return Optional.empty();
  }

  /** The stem, then the stem less its last parts, split where names usually are. */
  private static List<String> candidates(String stem) {
    List<String> candidates = new ArrayList<>();
    String rest = stem;
    while (!rest.isEmpty()) {
      candidates.add(rest);
      int cut = rest.length() - 1;
      while (cut > 0 && "_- .".indexOf(rest.charAt(cut)) < 0) {
        cut--;
      }
      rest = rest.substring(0, Math.max(cut, 0));
    }
    return candidates;
  }

  /** The known assembly that a file points to: by its serial column, else by its name. */
  Optional<String> serialOf(String name, MeasurementFile file) {
    String stated = file.serial();
    return stated == null
        ? serialFrom(name)
        : workOrders.findAssembly(stated).map(Assembly::serial);
  }

  /** Keeps others from recording the same content until this transaction ends. */
  void lock(byte[] content) {
    tables.lockContent(sha256(content));
  }

  /** The file of the same content that stands behind a valid reading. */
  Optional<SweepFile> recorded(byte[] content) {
    return tables.recorded(sha256(content));
  }

  /** The same file, where it waits for a person already. */
  Optional<SweepFile> waiting(String name, byte[] content) {
    return tables.waiting(name, sha256(content));
  }

  private static Sentence unknown(@Nullable String stated) {
    return stated == null
        ? Sentence.of("files.noAssembly")
        : Sentence.of("files.noSuchSerial", stated);
  }

  /** The same content makes one reading, also when it is sent twice at once. */
  private void refuseRecorded(SweepFile file) {
    tables.lockContent(file.sha256());
    Optional<SweepFile> earlier = tables.recorded(file.sha256());
    if (earlier.isPresent()) {
      throw new ConflictException(
          Sentence.of(
              "files.recordedBefore",
              file.name(),
              Objects.requireNonNull(earlier.get().readingId())));
    }
  }

  /** A file of one known assembly is not recorded for another. */
  private void refuseOther(MeasurementFile file, String serial) {
    String stated = file.serial();
    if (stated != null && !stated.equals(serial) && workOrders.findAssembly(stated).isPresent()) {
      throw InvalidInputException.of("serial", Sentence.of("files.otherSerial", serial, stated));
    }
  }

  private static void refuseFinished(SweepFile file) {
    if (file.state() == SweepFile.State.RECORDED || file.state() == SweepFile.State.DISCARDED) {
      throw new ConflictException(
          Sentence.of(
              file.state() == SweepFile.State.RECORDED ? "files.isRecorded" : "files.isDiscarded",
              file.name()));
    }
  }

  private static void require(boolean updated, SweepFile file) {
    if (!updated) {
      throw new ConflictException(Sentence.of("files.handledMeanwhile", file.name()));
    }
  }

  private static String sha256(byte[] content) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(content));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
