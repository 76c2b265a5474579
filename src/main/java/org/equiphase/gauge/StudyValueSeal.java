package org.equiphase.gauge;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.audit.Digest;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * A value of a gauge study, all that stays as it is when the value is struck out. The log holds its
 * digest and not the value, which those who measure may not see yet.
 */
@Component
class StudyValueSeal implements Seal {

  private static final String KIND = "gauge study value";

  private final JdbcClient jdbc;
  private final StudyTables tables;

  StudyValueSeal(JdbcClient jdbc, StudyTables tables) {
    this.jdbc = jdbc;
    this.tables = tables;
  }

  static SealedRow seal(StudyValue value) {
    return new SealedRow(KIND, value.id(), digest(value));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    return tables.valuesOf(ids).stream()
        .collect(Collectors.toMap(StudyValue::id, StudyValueSeal::digest));
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return jdbc.sql("select id from gauge_study_value where id > ? order by id limit ?")
        .param(id)
        .param(most)
        .query(Long.class)
        .list();
  }

  private static String digest(StudyValue value) {
    return new Digest()
        .whole(value.id())
        .whole(value.studyId())
        .whole((long) value.part())
        .whole((long) value.appraiser())
        .whole((long) value.trial())
        .number(value.phaseDeg())
        .text(value.captured() ? "captured" : "typed")
        .time(value.takenAt())
        .hex();
  }
}
