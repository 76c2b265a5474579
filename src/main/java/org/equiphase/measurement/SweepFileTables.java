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
      select id, version, name, sha256, uploaded_at, uploaded_by, state, serial, problem, reading_id
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
      SweepFile.State state,
      @Nullable String serial,
      String problem) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into sweep_file (version, name, sha256, content, uploaded_at, uploaded_by, state,
              serial, problem)
            values (0, ?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(name)
        .param(sha256)
        .param(content)
        .param(at.atOffset(ZoneOffset.UTC))
        .param(by)
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

  /** The valid reading that the same content was recorded as. */
  Optional<Long> recordedReading(String sha256) {
    return jdbc.sql(
            """
            select f.reading_id from sweep_file f join reading r on r.id = f.reading_id
            where f.sha256 = ? and f.state = 'RECORDED' and r.voided_at is null
            order by f.reading_id limit 1
            """)
        .param(sha256)
        .query(Long.class)
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
    return new SweepFile(
        row.getLong("id"),
        row.getInt("version"),
        row.getString("name"),
        row.getString("sha256"),
        row.getObject("uploaded_at", OffsetDateTime.class).toInstant(),
        row.getString("uploaded_by"),
        SweepFile.State.valueOf(row.getString("state")),
        row.getString("serial"),
        row.getString("problem"),
        row.getObject("reading_id", Long.class));
  }
}
