package org.equiphase.workbook;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Adjustments.SignOff;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.audit.Digest;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.TypedReading;
import org.equiphase.sheet.WorkbookGate;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.equiphase.workbook.Judge.Judged;
import org.equiphase.workbook.RowOutcome.Verdict;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionCallback;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.util.unit.DataSize;

/**
 * Workbooks that come back. A preview does all that storing does and takes it back, so that it
 * can't promise what storing would refuse. All of it runs on the connection of the request.
 */
@Service
class Uploads {

  private static final int LONGEST_NAME = 255;
  private static final int SHOWN = 20;

  private final UploadTables tables;
  private final WorkOrders workOrders;
  private final Judge judge;
  private final Adjustments adjustments;
  private final Readings readings;
  private final AuditLog audit;
  private final Problems problems;
  private final Clock clock;
  private final long mostBytes;
  private final TransactionTemplate nested;

  Uploads(
      UploadTables tables,
      WorkOrders workOrders,
      Judge judge,
      Adjustments adjustments,
      Readings readings,
      AuditLog audit,
      Problems problems,
      Clock clock,
      @Value("${spring.servlet.multipart.max-file-size}") DataSize mostBytes,
      PlatformTransactionManager transactions) {
    this.tables = tables;
    this.workOrders = workOrders;
    this.judge = judge;
    this.adjustments = adjustments;
    this.readings = readings;
    this.audit = audit;
    this.problems = problems;
    this.clock = clock;
    this.mostBytes = mostBytes.toBytes();
    nested = new TransactionTemplate(transactions);
    nested.setPropagationBehavior(TransactionDefinition.PROPAGATION_NESTED);
  }

  /**
   * What storing an upload would do now.
   *
   * @param digest names exactly this; storing asks for it
   */
  record Preview(Upload upload, String digest, List<RowOutcome> rows) {

    Preview {
      rows = List.copyOf(rows);
    }

    public long count(String verdict) {
      return rows.stream().filter(row -> row.verdict() == Verdict.valueOf(verdict)).count();
    }
  }

  /** The last uploads of an order, the newest first. */
  public List<Upload> ofOrder(long workOrderId) {
    return tables.ofOrder(workOrderId, SHOWN);
  }

  /**
   * Keeps a workbook that reads well; nothing of what it says is stored yet.
   *
   * @throws InvalidInputException saying what is wrong with the file
   */
  @Transactional
  public Upload upload(String orderNumber, String name, byte[] content) {
    WorkOrder order = workOrders.orderByNumber(orderNumber);
    new Checks().text("file", name, LONGEST_NAME).done();
    List<FilledRow> rows = read(order, content);
    String sha256 = new Digest().bytes(content).hex();
    long id = tables.insert(order.id(), name, sha256, content, clock.instant(), Actor.name());
    audit.record(
        "WORKBOOK_UPLOADED",
        "work order",
        orderNumber,
        Map.of("upload", id, "name", name, "sha256", sha256, "rows", rows.size()));
    return upload(order, id);
  }

  private Upload upload(WorkOrder order, long id) {
    return tables
        .upload(id)
        .filter(upload -> upload.workOrderId() == order.id())
        .orElseThrow(() -> new NotFoundException("workbook", "" + id));
  }

  private List<FilledRow> read(WorkOrder order, byte[] content) {
    List<FilledRow> rows =
        new WorkbookReader(Layout.widest(order.specification()), mostBytes).read(content);
    for (FilledRow row : rows) {
      RowKey.read(row.key())
          .filter(key -> key.orderId() != order.id())
          .ifPresent(
              key -> {
                throw WorkbookGate.refusal(
                    Sentence.of("workbook.file.otherOrder", row.number(), order.number()));
              });
    }
    if (rows.isEmpty()) {
      throw WorkbookGate.refusal(Sentence.of("workbook.file.nothing"));
    }
    return rows;
  }

  /** What storing would do now. */
  public Preview preview(String orderNumber, long id) {
    WorkOrder order = workOrders.orderByNumber(orderNumber);
    Upload upload = upload(order, id);
    List<FilledRow> rows = read(order, tables.content(id));
    return nested(
        status -> {
          status.setRollbackOnly();
          return preview(upload, carriedOut(order, rows));
        });
  }

  private static Preview preview(Upload upload, List<Judged> rows) {
    List<RowOutcome> outcomes = rows.stream().map(Judged::outcome).toList();
    Digest digest = new Digest().whole(upload.id());
    outcomes.forEach(row -> digest.text(row.toString()));
    return new Preview(upload, digest.hex(), outcomes);
  }

  /**
   * Stores the rows of a preview that can be, all or none.
   *
   * @param digest of the preview that a person has seen
   * @throws ConflictException if things have moved on since
   */
  public Preview store(String orderNumber, long id, String digest) {
    WorkOrder order = workOrders.orderByNumber(orderNumber);
    Upload upload = upload(order, id);
    List<FilledRow> rows = read(order, tables.content(id));
    return nested(status -> stored(order, upload, rows, digest));
  }

  private Preview stored(WorkOrder order, Upload upload, List<FilledRow> rows, String digest) {
    List<Judged> judged = carriedOut(order, rows);
    Preview done = preview(upload, judged);
    if (!done.digest().equals(digest)) {
      throw new ConflictException(Sentence.of("workbook.changedSince", upload.name()));
    }
    List<Judged> toStore = judged.stream().filter(Judged::isToStore).toList();
    if (toStore.isEmpty()) {
      return done;
    }
    toStore.forEach(row -> record(upload, row));
    if (!tables.stored(
        upload.id(), upload.version(), clock.instant(), Actor.name(), toStore.size())) {
      throw new ConflictException(Sentence.of("workbook.changedSince", upload.name()));
    }
    return preview(upload(order, upload.id()), judged);
  }

  private void record(Upload upload, Judged row) {
    Map<String, Object> details = new TreeMap<>();
    details.put("upload", upload.id());
    details.put("row", row.outcome().row());
    details.put("initials", String.valueOf(row.initials()));
    audit.record("WORKBOOK_ROW_STORED", "assembly", row.outcome().serial(), details);
  }

  private static List<SignOff> signOffs(List<Judged> rows) {
    return rows.stream().map(Judged::signOff).filter(Objects::nonNull).toList();
  }

  /**
   * Does all that the rows ask for and can be done. Where a row turns out not to be possible,
   * everything is taken back and done again without it.
   */
  private List<Judged> carriedOut(WorkOrder order, List<FilledRow> rows) {
    List<Judged> before;
    List<Judged> after = judge.judge(order, rows);
    do {
      before = after;
      List<Judged> asked = before;
      after =
          nested(
              status -> {
                List<Judged> tried = tried(order, asked);
                if (!tried.equals(asked)) {
                  status.setRollbackOnly();
                }
                return tried;
              });
    } while (!after.equals(before));
    return after;
  }

  private List<Judged> tried(WorkOrder order, List<Judged> judged) {
    List<Judged> rows = new ArrayList<>(judged);
    rows.replaceAll(row -> checked(order, row));
    List<SignOff> signOffs = signOffs(rows);
    Optional<Sentence> refusal = refusal(order, () -> adjustments.signOffAll(signOffs));
    rows.replaceAll(row -> row.signOff() == null ? row : refusal.map(row::refused).orElse(row));
    rows.replaceAll(row -> recorded(order, row));
    return rows;
  }

  private Judged checked(WorkOrder order, Judged row) {
    SignOff signOff = row.signOff();
    return signOff == null
        ? row
        : refusal(order, () -> adjustments.checkSignOff(signOff)).map(row::refused).orElse(row);
  }

  private Judged recorded(WorkOrder order, Judged row) {
    TypedReading reading = row.reading();
    return reading == null
        ? row
        : refusal(order, () -> readings.record(reading)).map(row::refused).orElse(row);
  }

  /** Does something, or takes it back and says why it can't be done. */
  private Optional<Sentence> refusal(WorkOrder order, Runnable work) {
    try {
      nested.executeWithoutResult(status -> work.run());
      return Optional.empty();
    } catch (RuntimeException e) {
      return Optional.of(words(order, e));
    }
  }

  private <T> T nested(TransactionCallback<T> work) {
    return Objects.requireNonNull(nested.execute(work));
  }

  /** What is wrong, named by the headings of the sheet. */
  private Sentence words(WorkOrder order, RuntimeException e) {
    if (e instanceof InvalidInputException invalid) {
      return invalid.problems().stream()
          .map(
              problem ->
                  Field.named(problem.field(), order.specification().frequencies())
                      .map(
                          field ->
                              Sentence.of("workbook.bad.cell", field.head(), problem.message()))
                      .orElse(problem.message()))
          .reduce((one, next) -> Sentence.of("problem.and", one, next))
          .orElseThrow();
    }
    return problems.of(e).detail();
  }
}
