package org.equiphase.release;

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

/** A release as it was signed; its withdrawal is sealed by itself. */
@Component
class ReleaseSeal implements Seal {

  private static final String KIND = "release";

  private final JdbcClient jdbc;
  private final ReleaseTables tables;

  ReleaseSeal(JdbcClient jdbc, ReleaseTables tables) {
    this.jdbc = jdbc;
    this.tables = tables;
  }

  static SealedRow seal(SetRelease release) {
    return new SealedRow(KIND, release.id(), digest(release));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    Map<Long, String> digests = new HashMap<>();
    tables.releases(ids).forEach(release -> digests.put(release.id(), digest(release)));
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "set_release", id, most);
  }

  private static String digest(SetRelease release) {
    return new Digest()
        .whole(release.id())
        .whole(release.setId())
        .text(release.number())
        .text(release.orderNumber())
        .text(release.orderRevision())
        .text(release.setName())
        .time(release.releasedAt())
        .text(release.releasedBy())
        .text(release.snapshot())
        .text(release.sha256())
        .whole(release.auditId())
        .text(release.auditHash())
        .hex();
  }
}
