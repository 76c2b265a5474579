package org.equiphase.review;

import java.util.List;
import org.equiphase.RunningService;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.DispositionTables.Row;
import org.springframework.jdbc.core.JdbcTemplate;

/** Gives decisions that were copied the hash of what they hold. */
public final class CopiedDecisions {

  private static final int BATCH = 1000;

  private CopiedDecisions() {}

  public static void seal(RunningService service) {
    DispositionTables tables = service.bean(DispositionTables.class);
    List<Long> ids = tables.idsAfter(0, BATCH);
    while (!ids.isEmpty()) {
      var signatures = tables.signatures(ids);
      List<Object[]> hashes =
          tables.rows(ids).stream()
              .map(row -> hash(row, signatures.getOrDefault(row.id(), List.of())))
              .toList();
      service
          .bean(JdbcTemplate.class)
          .batchUpdate("update disposition set sha256 = ? where id = ?", hashes);
      ids = tables.idsAfter(ids.get(ids.size() - 1), BATCH);
    }
  }

  private static Object[] hash(Row row, List<Signature> signatures) {
    return new Object[] {DispositionSeal.content(row, signatures.get(0)), row.id()};
  }
}
