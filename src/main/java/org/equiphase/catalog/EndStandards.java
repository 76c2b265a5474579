package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class EndStandards extends Shelf<EndStandard> {
  private static final int COEFFICIENTS = 4;

  EndStandards(JdbcClient jdbc, AuditLog audit) {
    super(jdbc, audit, "end_standard", "end standard");
  }

  @Override
  void check(EndStandard draft, DraftProblems problems) {
    problems.range("offsetDelayPs", draft.offsetDelayPs(), 0, 10_000, "ps");
    problems.range("offsetLossDb", draft.offsetLossDb(), 0, 10, "dB");
    if (draft.coefficients().size() != COEFFICIENTS) {
      problems.add(
          "coefficients", Sentence.of("catalog.fourCoefficients", draft.coefficients().size()));
    }
    for (int i = 0; i < draft.coefficients().size(); i++) {
      problems.range("coefficients[" + i + "]", draft.coefficients().get(i), -1e6, 1e6, "");
    }
  }

  @Override
  Map<String, @Nullable Object> columns(EndStandard draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("kind", draft.kind().name());
    values.put("offset_delay_ps", draft.offsetDelayPs());
    values.put("offset_loss_db", draft.offsetLossDb());
    for (int i = 0; i < COEFFICIENTS; i++) {
      values.put("coefficient_" + i, draft.coefficients().get(i));
    }
    return values;
  }

  @Override
  RowMapper<EndStandard> reader(@Nullable Long onlyId) {
    return (row, i) ->
        new EndStandard(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            EndStandard.Kind.valueOf(row.getString("kind")),
            row.getDouble("offset_delay_ps"),
            row.getDouble("offset_loss_db"),
            List.of(
                row.getDouble("coefficient_0"),
                row.getDouble("coefficient_1"),
                row.getDouble("coefficient_2"),
                row.getDouble("coefficient_3")),
            row.getString("note"));
  }
}
