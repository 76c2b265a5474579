package org.equiphase.workorder;

import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

/** Revisions of orders; rows are only ever added. */
@Repository
class RevisionTables {

  private static final int LONGEST_VALUE = 4000;

  private final JdbcClient jdbc;

  RevisionTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  void insert(long orderId, OrderRevision revision) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into order_revision (work_order_id, revision, revised_at, revised_by, reason)
            values (?, ?, ?, ?, ?)
            """)
        .param(orderId)
        .param(revision.revision())
        .param(revision.at().atOffset(ZoneOffset.UTC))
        .param(revision.by())
        .param(revision.reason())
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    for (int i = 0; i < revision.changes().size(); i++) {
      RevisionChange change = revision.changes().get(i);
      jdbc.sql("insert into order_revision_change values (?, ?, ?, ?, ?)")
          .param(id)
          .param(i)
          .param(change.field())
          .param(shortened(change.before()))
          .param(shortened(change.after()))
          .update();
    }
  }

  /** The newest first. */
  List<OrderRevision> of(long orderId) {
    return jdbc.sql("select * from order_revision where work_order_id = ? order by id desc")
        .param(orderId)
        .query(
            (row, n) ->
                new OrderRevision(
                    row.getString("revision"),
                    instant(row.getObject("revised_at", OffsetDateTime.class)),
                    row.getString("revised_by"),
                    row.getString("reason"),
                    changes(row.getLong("id"))))
        .list();
  }

  private List<RevisionChange> changes(long revisionId) {
    return jdbc.sql(
            "select * from order_revision_change where order_revision_id = ? order by ordinal")
        .param(revisionId)
        .query(
            (row, n) ->
                new RevisionChange(
                    row.getString("field"),
                    row.getString("value_before"),
                    row.getString("value_after")))
        .list();
  }

  private static Instant instant(OffsetDateTime at) {
    return at.toInstant();
  }

  private static @Nullable String shortened(@Nullable String value) {
    return value == null || value.length() <= LONGEST_VALUE
        ? value
        : value.substring(0, LONGEST_VALUE - 1) + "…";
  }
}
