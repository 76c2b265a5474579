package org.equiphase.release;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.audit.Digest;
import org.equiphase.audit.RowIds;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.equiphase.release.SetRelease.Withdrawal;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The withdrawal of a release, under the id of that release. */
@Component
class WithdrawalSeal implements Seal {

  private static final String KIND = "withdrawn release";

  private final JdbcClient jdbc;
  private final ReleaseTables tables;

  WithdrawalSeal(JdbcClient jdbc, ReleaseTables tables) {
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
    tables.releases(ids).stream()
        .filter(release -> release.withdrawal() != null)
        .forEach(release -> digests.put(release.id(), digest(release)));
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "release_id", "set_release_withdrawal", "true", id, most);
  }

  private static String digest(SetRelease release) {
    Withdrawal withdrawal = Objects.requireNonNull(release.withdrawal());
    return new Digest()
        .whole(release.id())
        .time(withdrawal.at())
        .text(withdrawal.by())
        .text(withdrawal.reason())
        .hex();
  }
}
