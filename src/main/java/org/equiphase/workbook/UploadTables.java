package org.equiphase.workbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

@Repository
class UploadTables {

  private static final String UPLOAD =
      """
      select id, version, work_order_id, name, sha256, uploaded_at, uploaded_by, stored_at,
        stored_by, rows_stored
      from workbook_upload
      """;

  private final JdbcClient jdbc;

  UploadTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(long workOrderId, String name, String sha256, byte[] content, Instant at, String by) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into workbook_upload (version, work_order_id, name, sha256, content, uploaded_at,
              uploaded_by, rows_stored)
            values (0, ?, ?, ?, ?, ?, ?, 0)
            """)
        .param(workOrderId)
        .param(name)
        .param(sha256)
        .param(content)
        .param(at.atOffset(ZoneOffset.UTC))
        .param(by)
        .update(key, "id");
    return Objects.requireNonNull(key.getKey()).longValue();
  }

  Optional<Upload> upload(long id) {
    return jdbc.sql(UPLOAD + "where id = ?").param(id).query(UploadTables::toUpload).optional();
  }

  byte[] content(long id) {
    return jdbc.sql("select content from workbook_upload where id = ?")
        .param(id)
        .query(byte[].class)
        .single();
  }

  /** The last uploads of an order, the newest first. */
  List<Upload> ofOrder(long workOrderId, int most) {
    return jdbc.sql(UPLOAD + "where work_order_id = ? order by id desc limit ?")
        .param(workOrderId)
        .param(most)
        .query(UploadTables::toUpload)
        .list();
  }

  boolean stored(long id, int version, Instant at, String by, int rows) {
    return jdbc.sql(
                """
                update workbook_upload
                set version = version + 1, stored_at = ?, stored_by = ?, rows_stored = ?
                where id = ? and version = ?
                """)
            .param(at.atOffset(ZoneOffset.UTC))
            .param(by)
            .param(rows)
            .param(id)
            .param(version)
            .update()
        == 1;
  }

  private static Upload toUpload(ResultSet row, int number) throws SQLException {
    OffsetDateTime storedAt = row.getObject("stored_at", OffsetDateTime.class);
    return new Upload(
        row.getLong("id"),
        row.getInt("version"),
        row.getLong("work_order_id"),
        row.getString("name"),
        row.getString("sha256"),
        row.getObject("uploaded_at", OffsetDateTime.class).toInstant(),
        row.getString("uploaded_by"),
        storedAt == null ? null : storedAt.toInstant(),
        row.getString("stored_by"),
        row.getInt("rows_stored"));
  }
}
