package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.audit.AuditLog;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class Instruments extends Shelf<Instrument> {
  private static final int SERIAL_NUMBER_LENGTH = 80;

  Instruments(JdbcClient jdbc, AuditLog audit) {
    super(jdbc, audit, "instrument", "instrument");
  }

  @Override
  void check(Instrument draft, DraftProblems problems) {
    problems.line("serialNumber", draft.serialNumber().strip(), SERIAL_NUMBER_LENGTH);
    problems.above("phaseStandardUncertaintyDeg", draft.phaseStandardUncertaintyDeg(), 0, 45, "°");
    problems.checkDay("calibrationDue", draft.calibrationDue());
    ScpiConnection connection = draft.connection();
    if (connection != null) {
      ScpiConnections.check(connection, problems);
    }
  }

  boolean takeLine(ScpiConnection connection) {
    return ScpiConnections.take(this, connection);
  }

  @Override
  String details(Instrument entry) {
    return ScpiConnections.details(entry.connection());
  }

  @Override
  void writeChildren(long id, Instrument draft) {
    ScpiConnections.write(this, id, draft.connection());
  }

  @Override
  Map<String, @Nullable Object> columns(Instrument draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("serial_number", draft.serialNumber().strip());
    values.put("phase_standard_uncertainty_deg", draft.phaseStandardUncertaintyDeg());
    values.put("calibration_due", draft.calibrationDue());
    return values;
  }

  @Override
  RowMapper<Instrument> reader(@Nullable Long onlyId) {
    Map<Long, List<ScpiConnection>> connections = ScpiConnections.read(this, onlyId);
    return (row, i) ->
        new Instrument(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            row.getString("serial_number"),
            row.getDouble("phase_standard_uncertainty_deg"),
            Objects.requireNonNull(date(row, "calibration_due")),
            row.getString("note"),
            connections.getOrDefault(row.getLong("id"), List.of()).stream()
                .findFirst()
                .orElse(null));
  }
}
