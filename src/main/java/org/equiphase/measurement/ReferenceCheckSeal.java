package org.equiphase.measurement;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.audit.Digest;
import org.equiphase.audit.RowIds;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The readings of reference cables, by which drift is taken off. */
@Component
class ReferenceCheckSeal implements Seal {

  private static final String KIND = "reference check";

  private final JdbcClient jdbc;

  ReferenceCheckSeal(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  static SealedRow seal(ReferenceCheck check) {
    return new SealedRow(KIND, check.id(), digest(check));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    return jdbc
        .sql("select * from reference_check where id in (:ids)")
        .param("ids", ids)
        .query(ReferenceChecks::toCheck)
        .list()
        .stream()
        .collect(Collectors.toMap(ReferenceCheck::id, ReferenceCheckSeal::digest));
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "reference_check", id, most);
  }

  private static String digest(ReferenceCheck check) {
    return new Digest()
        .whole(check.id())
        .whole(check.benchId())
        .text(check.cableSerial())
        .text(check.method().name())
        .number(check.frequencyHz())
        .number(check.phaseDeg())
        .number(check.temperatureC())
        .time(check.takenAt())
        .text(check.recordedBy())
        .hex();
  }
}
