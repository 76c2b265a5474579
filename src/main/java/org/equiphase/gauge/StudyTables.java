package org.equiphase.gauge;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

/** Studies and their values; a value is struck out, never changed. */
@Repository
class StudyTables {

  private static final int MOST_LISTED = 200;
  private static final String STUDY =
      """
      select s.*,
        (select array_agg(p.serial order by p.ordinal) from gauge_study_part p
         where p.gauge_study_id = s.id) as parts,
        (select array_agg(a.username order by a.ordinal) from gauge_study_appraiser a
         where a.gauge_study_id = s.id) as appraisers
      from gauge_study s""";

  private final JdbcClient jdbc;

  StudyTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(StudyDraft draft, long seed, String by, Instant at) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into gauge_study (version, name, bench_id, frequency_hz, tolerance_width_deg,
              trials, seed, planned_by, planned_at, state, cancel_reason)
            values (0, ?, ?, ?, ?, ?, ?, ?, ?, 'RUNNING', '')
            """)
        .param(draft.name())
        .param(draft.benchId())
        .param(draft.frequencyHz())
        .param(draft.toleranceWidthDeg())
        .param(draft.trials())
        .param(seed)
        .param(by)
        .param(at.atOffset(ZoneOffset.UTC))
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    list("gauge_study_part", id, Objects.requireNonNull(draft.parts()));
    list("gauge_study_appraiser", id, Objects.requireNonNull(draft.appraisers()));
    return id;
  }

  private void list(String table, long studyId, List<String> values) {
    for (int i = 0; i < values.size(); i++) {
      jdbc.sql("insert into " + table + " values (?, ?, ?)")
          .param(studyId)
          .param(i)
          .param(values.get(i))
          .update();
    }
  }

  Optional<Study> study(long id) {
    return jdbc.sql(STUDY + " where s.id = ?").param(id).query(StudyTables::toStudy).optional();
  }

  /** Reads a study and keeps it from changing until the transaction ends. */
  Optional<Study> lock(long id) {
    return jdbc.sql("select id from gauge_study where id = ? for update")
        .param(id)
        .query(Long.class)
        .optional()
        .flatMap(this::study);
  }

  List<Study> latest() {
    return jdbc.sql(STUDY + " order by s.id desc limit ?")
        .param(MOST_LISTED)
        .query(StudyTables::toStudy)
        .list();
  }

  List<Study> running(long benchId, String username) {
    return jdbc.sql(
            STUDY
                + """
                 join gauge_study_appraiser me on me.gauge_study_id = s.id
                where s.bench_id = ? and s.state = 'RUNNING' and me.username = ? order by s.id
                """)
        .param(benchId)
        .param(username)
        .query(StudyTables::toStudy)
        .list();
  }

  boolean setState(Study study, Study.State state, String cancelReason) {
    return jdbc.sql(
                """
                update gauge_study set version = version + 1, state = ?, cancel_reason = ?
                where id = ? and version = ?
                """)
            .param(state.name())
            .param(cancelReason)
            .param(study.id())
            .param(study.version())
            .update()
        == 1;
  }

  StudyValue insertValue(long studyId, Turn turn, double phaseDeg, boolean captured, Instant at) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into gauge_study_value (gauge_study_id, part, appraiser, trial, phase_deg,
              captured, taken_at, strike_reason)
            values (?, ?, ?, ?, ?, ?, ?, '')
            """)
        .param(studyId)
        .param(turn.part())
        .param(turn.appraiser())
        .param(turn.trial())
        .param(phaseDeg)
        .param(captured)
        .param(at.atOffset(ZoneOffset.UTC))
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    return valuesOf(List.of(id)).get(0);
  }

  List<StudyValue> valuesOf(Collection<Long> ids) {
    return jdbc.sql("select * from gauge_study_value where id in (:ids)")
        .param("ids", ids)
        .query(StudyTables::toValue)
        .list();
  }

  void strike(long valueId, String reason, Instant at) {
    jdbc.sql(
            """
            update gauge_study_value set struck = id, struck_at = ?, strike_reason = ?
            where id = ? and struck = 0
            """)
        .param(at.atOffset(ZoneOffset.UTC))
        .param(reason)
        .param(valueId)
        .update();
  }

  /** All values, struck ones too, in the order in which they were taken. */
  List<StudyValue> values(long studyId) {
    return jdbc.sql("select * from gauge_study_value where gauge_study_id = ? order by id")
        .param(studyId)
        .query(StudyTables::toValue)
        .list();
  }

  private static Study toStudy(ResultSet row, int number) throws SQLException {
    return new Study(
        row.getLong("id"),
        row.getInt("version"),
        row.getString("name"),
        row.getLong("bench_id"),
        row.getDouble("frequency_hz"),
        row.getDouble("tolerance_width_deg"),
        row.getInt("trials"),
        row.getLong("seed"),
        texts(row, "parts"),
        texts(row, "appraisers"),
        row.getString("planned_by"),
        row.getObject("planned_at", OffsetDateTime.class).toInstant(),
        Study.State.valueOf(row.getString("state")),
        row.getString("cancel_reason"));
  }

  private static List<String> texts(ResultSet row, String column) throws SQLException {
    return Arrays.stream((Object[]) row.getArray(column).getArray()).map(Object::toString).toList();
  }

  private static StudyValue toValue(ResultSet row, int number) throws SQLException {
    OffsetDateTime struckAt = row.getObject("struck_at", OffsetDateTime.class);
    return new StudyValue(
        row.getLong("id"),
        row.getLong("gauge_study_id"),
        row.getInt("part"),
        row.getInt("appraiser"),
        row.getInt("trial"),
        row.getDouble("phase_deg"),
        row.getBoolean("captured"),
        row.getObject("taken_at", OffsetDateTime.class).toInstant(),
        struckAt == null ? null : struckAt.toInstant(),
        row.getString("strike_reason"));
  }
}
