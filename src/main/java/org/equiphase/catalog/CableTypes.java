package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class CableTypes extends Shelf<CableType> {

  CableTypes(JdbcClient jdbc, AuditLog audit) {
    super(jdbc, audit, "cable_type", "cable type");
  }

  @Override
  void check(CableType draft, DraftProblems problems) {
    if (draft.velocityFactor() >= 10 && draft.velocityFactor() <= 100) {
      problems.add(
          "velocityFactor",
          Sentence.of(
              "catalog.percent",
              NumberText.digits(draft.velocityFactor()),
              NumberText.digits(draft.velocityFactor() / 100)));
    }
    problems.range("velocityFactor", draft.velocityFactor(), 0.1, 1, "");
    problems.range("velocityFactorTolerance", draft.velocityFactorTolerance(), 0, 0.09, "");
    problems.range("impedanceOhm", draft.impedanceOhm(), 1, 1000, "Ω");
    problems.range("skinLossDbPerM", draft.skinLossDbPerM(), 0, 100, "dB/m");
    problems.range("dielectricLossDbPerM", draft.dielectricLossDbPerM(), 0, 100, "dB/m");
    checkCurve(draft.temperatureCurve(), problems);
  }

  private static void checkCurve(List<TemperaturePoint> curve, DraftProblems problems) {
    String field = "temperatureCurve";
    problems.pointCount(field, curve.size());
    for (int i = 0; i < curve.size(); i++) {
      TemperaturePoint point = curve.get(i);
      problems.point(field, i, "catalog.point.temperature", point.temperatureC(), -270, 500, "°C");
      problems.point(
          field, i, "catalog.point.lengthChange", point.lengthPpm(), -50_000, 50_000, "ppm");
      if (i > 0 && !(point.temperatureC() > curve.get(i - 1).temperatureC())) {
        problems.add(
            field,
            Sentence.of(
                "catalog.notRising",
                i + 1,
                NumberText.digits(point.temperatureC()),
                NumberText.digits(curve.get(i - 1).temperatureC())));
      }
    }
  }

  @Override
  Map<String, @Nullable Object> columns(CableType draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("velocity_factor", draft.velocityFactor());
    values.put("velocity_factor_tolerance", draft.velocityFactorTolerance());
    values.put("impedance_ohm", draft.impedanceOhm());
    values.put("skin_loss_db_per_m", draft.skinLossDbPerM());
    values.put("dielectric_loss_db_per_m", draft.dielectricLossDbPerM());
    return values;
  }

  @Override
  String details(CableType entry) {
    return DraftProblems.joined(
        entry.temperatureCurve(),
        p -> NumberText.plain(p.temperatureC()) + ": " + NumberText.plain(p.lengthPpm()));
  }

  @Override
  void writeChildren(long id, CableType draft) {
    clearChildren("cable_type_temperature_point", "cable_type_id", id);
    for (TemperaturePoint point : draft.temperatureCurve()) {
      jdbc()
          .sql(
              "insert into cable_type_temperature_point (cable_type_id, temperature_c, length_ppm) values (:id, :temperatureC, :lengthPpm)")
          .param("id", id)
          .param("temperatureC", point.temperatureC())
          .param("lengthPpm", point.lengthPpm())
          .update();
    }
  }

  @Override
  RowMapper<CableType> reader(@Nullable Long onlyId) {
    Map<Long, List<TemperaturePoint>> curves =
        children(
            "cable_type_temperature_point",
            "cable_type_id",
            "temperature_c",
            onlyId,
            (row, i) ->
                new TemperaturePoint(row.getDouble("temperature_c"), row.getDouble("length_ppm")));
    return (row, i) ->
        new CableType(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            row.getDouble("velocity_factor"),
            row.getDouble("velocity_factor_tolerance"),
            row.getDouble("impedance_ohm"),
            row.getDouble("skin_loss_db_per_m"),
            row.getDouble("dielectric_loss_db_per_m"),
            curves.getOrDefault(row.getLong("id"), List.of()),
            row.getString("note"));
  }
}
