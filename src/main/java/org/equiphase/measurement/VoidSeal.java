package org.equiphase.measurement;

import java.time.OffsetDateTime;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.Digest;
import org.equiphase.audit.RowIds;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** That a reading was taken out of use, by whom and why. */
@Component
class VoidSeal implements Seal {

  private static final String KIND = "voided reading";

  private final JdbcClient jdbc;

  VoidSeal(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  static SealedRow seal(long readingId, Reading.Voided voided) {
    return new SealedRow(KIND, readingId, digest(readingId, voided));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    Map<Long, String> digests = new HashMap<>();
    jdbc.sql(
            """
            select id, voided_at, voided_by, void_reason from reading
            where id in (:ids) and voided_at is not null
            """)
        .param("ids", ids)
        .query(
            row -> {
              Reading.Voided voided =
                  new Reading.Voided(
                      row.getObject("voided_at", OffsetDateTime.class).toInstant(),
                      row.getString("voided_by"),
                      row.getString("void_reason"));
              digests.put(row.getLong("id"), digest(row.getLong("id"), voided));
            });
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "id", "reading", "voided_at is not null", id, most);
  }

  private static String digest(long readingId, Reading.Voided voided) {
    return new Digest()
        .whole(readingId)
        .time(voided.at())
        .text(voided.by())
        .text(voided.reason())
        .hex();
  }
}
