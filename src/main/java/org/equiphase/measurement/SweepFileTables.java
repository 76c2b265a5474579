package org.equiphase.measurement;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

@Repository
class SweepFileTables {

  private static final String FILE =
      """
      select id, version, name, sha256, uploaded_at, uploaded_by, taken_at, state, serial, problem,
        reading_id
      from sweep_file
      """;

  private final JdbcClient jdbc;

  SweepFileTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(
      String name,
      String sha256,
      byte[] content,
      Instant at,
      String by,
      @Nullable Instant takenAt,
      SweepFile.State state,
      @Nullable String serial,
      String problem) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into sweep_file (version, name, sha256, content, uploaded_at, uploaded_by,
              taken_at, state, serial, problem)
            values (0, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(name)
        .param(sha256)
        .param(content)
        .param(at.atOffset(ZoneOffset.UTC))
        .param(by)
        .param(takenAt == null ? null : takenAt.atOffset(ZoneOffset.UTC))
        .param(state.name())
        .param(serial)
        .param(problem)
        .update(key, "id");
    return Objects.requireNonNull(key.getKey()).longValue();
  }

  List<SweepFile> waiting() {
    return jdbc.sql(FILE + "where state in ('READY', 'UNMATCHED') order by id")
        .query(SweepFileTables::toFile)
        .list();
  }

  List<SweepFile> finished(int most) {
    return jdbc.sql(FILE + "where state in ('RECORDED', 'DISCARDED') order by id desc limit ?")
        .param(most)
        .query(SweepFileTables::toFile)
        .list();
  }

  Optional<SweepFile> file(long id) {
    return jdbc.sql(FILE + "where id = ?").param(id).query(SweepFileTables::toFile).optional();
  }

  byte[] content(long id) {
    return jdbc.sql("select content from sweep_file where id = ?")
        .param(id)
        .query(byte[].class)
        .single();
  }

  /** Keeps others from recording the same content until this transaction ends. */
  void lockContent(String sha256) {
    jdbc.sql("insert into file_content (sha256) values (?) on conflict do nothing")
        .param(sha256)
        .update();
    jdbc.sql("select sha256 from file_content where sha256 = ? for update")
        .param(sha256)
        .query(String.class)
        .single();
  }

  /** The file of the same content that stands behind a valid reading. */
  Optional<SweepFile> recorded(String sha256) {
    return jdbc.sql(
            FILE
                + """
                where sha256 = ? and state = 'RECORDED' and exists
                  (select 1 from reading r where r.id = reading_id and r.voided_at is null)
                order by id limit 1
                """)
        .param(sha256)
        .query(SweepFileTables::toFile)
        .optional();
  }

  /** The file of this name and content that waits for a person. */
  Optional<SweepFile> waiting(String name, String sha256) {
    return jdbc.sql(
            FILE
                + """
                where sha256 = ? and name = ? and state in ('READY', 'UNMATCHED')
                order by id limit 1
                """)
        .param(sha256)
        .param(name)
        .query(SweepFileTables::toFile)
        .optional();
  }

  boolean finish(
      long id,
      int version,
      SweepFile.State state,
      @Nullable String serial,
      String problem,
      @Nullable Long readingId) {
    return jdbc.sql(
                """
                update sweep_file set version = version + 1, state = ?, serial = ?, problem = ?,
                  reading_id = ?
                where id = ? and version = ?
                """)
            .param(state.name())
            .param(serial)
            .param(problem)
            .param(readingId)
            .param(id)
            .param(version)
            .update()
        == 1;
  }

  private static SweepFile toFile(ResultSet row, int number) throws SQLException {
    OffsetDateTime takenAt = row.getObject("taken_at", OffsetDateTime.class);
    return new SweepFile(
        row.getLong("id"),
        row.getInt("version"),
        row.getString("name"),
        row.getString("sha256"),
        row.getObject("uploaded_at", OffsetDateTime.class).toInstant(),
        row.getString("uploaded_by"),
        takenAt == null ? null : takenAt.toInstant(),
        SweepFile.State.valueOf(row.getString("state")),
        row.getString("serial"),
        row.getString("problem"),
        row.getObject("reading_id", Long.class));
  }
}
