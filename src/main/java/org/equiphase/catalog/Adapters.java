package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class Adapters extends Shelf<Adapter> {

  Adapters(JdbcClient jdbc, AuditLog audit) {
    super(jdbc, audit, "adapter", "adapter");
  }

  @Override
  void check(Adapter draft, DraftProblems problems) {
    problems.range("delayPs", draft.delayPs(), -100_000, 100_000, "ps");
    problems.range("lossDbAt1Ghz", draft.lossDbAt1Ghz(), 0, 20, "dB");
  }

  @Override
  Map<String, @Nullable Object> columns(Adapter draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("delay_ps", draft.delayPs());
    values.put("loss_db_at_1_ghz", draft.lossDbAt1Ghz());
    return values;
  }

  @Override
  RowMapper<Adapter> reader(@Nullable Long onlyId) {
    return (row, i) ->
        new Adapter(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            row.getDouble("delay_ps"),
            row.getDouble("loss_db_at_1_ghz"),
            row.getString("note"));
  }
}
