package org.equiphase.workorder;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.audit.Actor;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderPreview.PlannedOrder;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Orders from files. An uploaded file is kept for a day, looked at as often as wanted, and read
 * again when its orders are stored: what was shown is what is stored, or nothing is.
 */
@Service
class OrderImports {

  private static final Duration KEPT = Duration.ofDays(1);
  private static final int LONGEST_NAME = 200;

  private final JdbcClient jdbc;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Clock clock;

  OrderImports(JdbcClient jdbc, WorkOrders workOrders, Catalog catalog, Clock clock) {
    this.jdbc = jdbc;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.clock = clock;
  }

  /**
   * A file as it was uploaded.
   *
   * @param storedAt when its orders were stored; null before
   */
  record Upload(
      long id,
      int version,
      String name,
      byte[] content,
      Instant uploadedAt,
      String uploadedBy,
      @Nullable Instant storedAt) {}

  /**
   * Keeps a file that can be read as a table; what is wrong in its cells is told by its preview.
   */
  @Transactional
  public long upload(String name, byte[] content) {
    preview(content);
    Instant now = clock.instant();
    jdbc.sql("delete from order_import where stored_at is null and uploaded_at < ?")
        .param(now.minus(KEPT).atOffset(ZoneOffset.UTC))
        .update();
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into order_import (version, name, content, uploaded_at, uploaded_by)
            values (0, ?, ?, ?, ?)
            """)
        .param(name.length() > LONGEST_NAME ? name.substring(0, LONGEST_NAME) : name)
        .param(content)
        .param(now.atOffset(ZoneOffset.UTC))
        .param(Actor.name())
        .update(key, "id");
    return Objects.requireNonNull(key.getKey()).longValue();
  }

  Upload uploaded(long id) {
    return jdbc.sql("select * from order_import where id = ?")
        .param(id)
        .query(
            (row, n) -> {
              OffsetDateTime storedAt = row.getObject("stored_at", OffsetDateTime.class);
              return new Upload(
                  row.getLong("id"),
                  row.getInt("version"),
                  row.getString("name"),
                  row.getBytes("content"),
                  row.getObject("uploaded_at", OffsetDateTime.class).toInstant(),
                  row.getString("uploaded_by"),
                  storedAt == null ? null : storedAt.toInstant());
            })
        .optional()
        .orElseThrow(() -> new NotFoundException("file of orders", "" + id));
  }

  /** What a file would become, as the shop stands now. */
  @Transactional(readOnly = true)
  public OrderPreview preview(byte[] content) {
    return OrderSheet.read(content, catalog, workOrders);
  }

  /** Stores the orders of an uploaded file, all of them or none. */
  @Transactional
  public List<WorkOrder> store(long id, int version) {
    Upload upload = uploaded(id);
    int taken =
        jdbc.sql(
                """
                update order_import set version = version + 1, stored_at = ?
                where id = ? and version = ? and stored_at is null
                """)
            .param(clock.instant().atOffset(ZoneOffset.UTC))
            .param(id)
            .param(version)
            .update();
    if (taken == 0) {
      throw new ConflictException(Sentence.of("orderfile.storedAlready", upload.name()));
    }
    return store(upload.content());
  }

  /** Stores the orders of a file, all of them or none. */
  @Transactional
  public List<WorkOrder> store(byte[] content) {
    OrderPreview preview = preview(content);
    if (!preview.problems().isEmpty()) {
      throw new InvalidInputException(
          preview.problems().stream()
              .map(
                  cell ->
                      new FieldProblem(
                          "rows[" + cell.row() + "]." + cell.heading(), cell.message()))
              .toList());
    }
    List<WorkOrder> orders = new ArrayList<>();
    for (PlannedOrder planned : preview.orders()) {
      orders.add(workOrders.create(Objects.requireNonNull(planned.draft())));
    }
    return orders;
  }
}
