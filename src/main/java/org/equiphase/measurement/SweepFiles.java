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
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Uploaded Touchstone files. The serial number is taken from the file's name and shown for
 * confirmation; a file that names no assembly is listed and kept.
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

  /** Keeps an uploaded file and says which assembly its name points to, and what is wrong. */
  @Transactional
  public SweepFile upload(String name, byte[] content) {
    new Checks().text("file", name, MAX_NAME).done();
    String sha256 = sha256(content);
    String serial = serialFrom(name).orElse(null);
    String problem = problem(name, content, sha256, serial);
    SweepFile.State state = problem.isEmpty() ? SweepFile.State.READY : SweepFile.State.UNMATCHED;
    long id =
        tables.insert(name, sha256, content, clock.instant(), Actor.name(), state, serial, problem);
    audit.record(
        "FILE_UPLOADED",
        "file",
        "" + id,
        Map.of("name", name, "sha256", sha256, "problem", problem));
    return file(id);
  }

  /** Records a file as a reading of the assembly that the person confirmed. */
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
    Optional<Long> earlier = tables.recordedReading(file.sha256());
    if (earlier.isPresent()) {
      throw new ConflictException(Sentence.of("files.recordedBefore", file.name(), earlier.get()));
    }
    Reading reading =
        readings.record(serial, benchId, temperatureC, takenAt, file.name(), tables.content(id));
    require(tables.finish(id, version, SweepFile.State.RECORDED, serial, "", reading.id()), file);
    return file(id);
  }

  /** Uploads a file and records it at once, for a person who has the assembly before them. */
  @Transactional
  public Reading record(
      String serial,
      long benchId,
      double temperatureC,
      @Nullable Instant takenAt,
      String name,
      byte[] content) {
    SweepFile file = upload(name, content);
    SweepFile recorded = confirm(file.id(), file.version(), serial, benchId, temperatureC, takenAt);
    return readings.reading(Objects.requireNonNull(recorded.readingId()));
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

  private String problem(String name, byte[] content, String sha256, @Nullable String serial) {
    Optional<Long> earlier = tables.recordedReading(sha256);
    if (earlier.isPresent()) {
      return "The same content was recorded before, as reading " + earlier.get() + ".";
    }
    try {
      SweepReader.read(name, content);
    } catch (TouchstoneException e) {
      return String.valueOf(e.getMessage());
    }
    if (serial == null) {
      return "No assembly is known by this file's name; give its serial number.";
    }
    return "";
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
