package org.equiphase.release;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.release.SetRelease.Withdrawal;
import org.equiphase.web.Like;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.stereotype.Repository;

@Repository
class ReleaseTables {

  private static final String SELECT =
      """
      select r.*, w.withdrawn_at, w.withdrawn_by, w.reason,
        (select min(n.id) from set_release n
          where n.matched_set_id = r.matched_set_id and n.id > r.id) as next_id
      from set_release r left join set_release_withdrawal w on w.release_id = r.id
      """;

  private final JdbcClient jdbc;

  ReleaseTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(Certificate certificate, String snapshot, String sha256) {
    CertifiedSet.Subject subject = certificate.set().subject();
    GeneratedKeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into set_release (matched_set_id, number, order_number, order_revision, set_name,
              released_at, released_by, snapshot, sha256, audit_id, audit_hash)
            values (:setId, :number, :order, :revision, :name, :at, :by, :snapshot, :sha256,
              :auditId, :auditHash)
            """)
        .param("setId", subject.setId())
        .param("number", certificate.number())
        .param("order", subject.orderNumber())
        .param("revision", subject.orderRevision())
        .param("name", subject.setName())
        .param("at", certificate.signature().at().atOffset(ZoneOffset.UTC))
        .param("by", certificate.signature().username())
        .param("snapshot", snapshot)
        .param("sha256", sha256)
        .param("auditId", certificate.auditHead().entry())
        .param("auditHash", certificate.auditHead().hash())
        .update(key, "id");
    return Objects.requireNonNull(key.getKey()).longValue();
  }

  void withdraw(long releaseId, Withdrawal withdrawal) {
    jdbc.sql("insert into set_release_withdrawal values (?, ?, ?, ?)")
        .param(releaseId)
        .param(withdrawal.at().atOffset(ZoneOffset.UTC))
        .param(withdrawal.by())
        .param(withdrawal.reason())
        .update();
  }

  Optional<SetRelease> release(long id) {
    return jdbc.sql(SELECT + " where r.id = ?").param(id).query(ReleaseTables::row).optional();
  }

  List<SetRelease> releases(Collection<Long> ids) {
    return jdbc.sql(SELECT + " where r.id in (:ids)")
        .param("ids", ids)
        .query(ReleaseTables::row)
        .list();
  }

  /** The newest first. */
  List<SetRelease> ofSet(long setId) {
    return jdbc.sql(SELECT + " where r.matched_set_id = ? order by r.id desc")
        .param(setId)
        .query(ReleaseTables::row)
        .list();
  }

  /** By a part of the certificate's or the order's number, the newest first. */
  List<SetRelease> find(String part, int most) {
    return jdbc.sql(
            SELECT
                + """
                 where lower(r.number) like lower(:part) escape '!'
                   or lower(r.order_number) like lower(:part) escape '!'
                order by r.id desc limit :most
                """)
        .param("part", Like.containing(part))
        .param("most", most)
        .query(ReleaseTables::row)
        .list();
  }

  private static SetRelease row(ResultSet row, int number) throws SQLException {
    OffsetDateTime withdrawnAt = row.getObject("withdrawn_at", OffsetDateTime.class);
    return new SetRelease(
        row.getLong("id"),
        row.getLong("matched_set_id"),
        row.getString("number"),
        row.getString("order_number"),
        row.getString("order_revision"),
        row.getString("set_name"),
        instant(row.getObject("released_at", OffsetDateTime.class)),
        row.getString("released_by"),
        row.getString("snapshot"),
        row.getString("sha256"),
        row.getLong("audit_id"),
        row.getString("audit_hash"),
        withdrawnAt == null
            ? null
            : new Withdrawal(
                instant(withdrawnAt), row.getString("withdrawn_by"), row.getString("reason")),
        row.getObject("next_id", Long.class));
  }

  private static Instant instant(OffsetDateTime time) {
    return time.toInstant();
  }
}
