package org.equiphase.bench;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Work laid down at a bench with a note; whoever resumes it, at whatever shift, takes it over. */
@Service
class Pauses {

  private static final String SELECT =
      "select p.*, a.serial from bench_pause p left join assembly a on a.id = p.assembly_id ";

  private final JdbcClient jdbc;
  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final AuditLog audit;
  private final Clock clock;

  Pauses(JdbcClient jdbc, Catalog catalog, WorkOrders workOrders, AuditLog audit, Clock clock) {
    this.jdbc = jdbc;
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.audit = audit;
    this.clock = clock;
  }

  /**
   * @param serial the assembly that was in work; null for none
   */
  public record Pause(
      long id,
      long benchId,
      @Nullable String serial,
      String note,
      String by,
      Instant at,
      @Nullable String resumedBy,
      @Nullable Instant resumedAt) {}

  /** What lies at a bench, the newest first. */
  List<Pause> open(long benchId) {
    return jdbc.sql(SELECT + "where p.bench_id = ? and p.resumed_at is null order by p.id desc")
        .param(benchId)
        .query(Pauses::toPause)
        .list();
  }

  @Transactional
  void pause(long benchId, @Nullable String serial, String note) {
    new Checks().text("note", note, 500).done();
    jdbc.sql(
            """
            insert into bench_pause (bench_id, assembly_id, note, paused_by, paused_at)
            values (?, ?, ?, ?, ?)
            """)
        .param(benchId)
        .param(
            serial == null || serial.isBlank()
                ? null
                : workOrders.assemblyBySerial(serial.strip()).id())
        .param(note)
        .param(Actor.name())
        .param(clock.instant().atOffset(ZoneOffset.UTC))
        .update();
    audit.record(
        "WORK_PAUSED",
        "bench",
        catalog.bench(benchId).name(),
        Map.of("serial", serial == null ? "" : serial, "note", note));
  }

  /** Takes the work over; the second who tries is told who has it. */
  @Transactional
  Pause resume(long id) {
    int resumed =
        jdbc.sql(
                """
                update bench_pause set resumed_by = ?, resumed_at = ?
                where id = ? and resumed_at is null
                """)
            .param(Actor.name())
            .param(clock.instant().atOffset(ZoneOffset.UTC))
            .param(id)
            .update();
    Pause pause =
        jdbc.sql(SELECT + "where p.id = ?")
            .param(id)
            .query(Pauses::toPause)
            .optional()
            .orElseThrow(() -> new NotFoundException("pause", "" + id));
    if (resumed == 0) {
      throw new ConflictException(
          Sentence.of(
              "bench.conflict.resumed",
              String.valueOf(pause.resumedBy()),
              Format.PLAIN.time(pause.resumedAt())));
    }
    audit.record(
        "WORK_RESUMED", "bench", catalog.bench(pause.benchId()).name(), Map.of("pause", id));
    return pause;
  }

  private static Pause toPause(ResultSet row, int number) throws SQLException {
    OffsetDateTime resumedAt = row.getObject("resumed_at", OffsetDateTime.class);
    return new Pause(
        row.getLong("id"),
        row.getLong("bench_id"),
        row.getString("serial"),
        row.getString("note"),
        row.getString("paused_by"),
        row.getObject("paused_at", OffsetDateTime.class).toInstant(),
        row.getString("resumed_by"),
        resumedAt == null ? null : resumedAt.toInstant());
  }
}
