package org.equiphase.catalog;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class Benches extends Shelf<Bench> {
  private static final String TRANSMISSION = "TRANSMISSION";
  private static final String REFLECTION = "REFLECTION";

  private final Instruments instruments;
  private final EndStandards endStandards;
  private final Adapters adapters;
  private final CableTypes cableTypes;

  Benches(
      JdbcClient jdbc,
      AuditLog audit,
      Instruments instruments,
      EndStandards endStandards,
      Adapters adapters,
      CableTypes cableTypes) {
    super(jdbc, audit, "bench", "bench");
    this.instruments = instruments;
    this.endStandards = endStandards;
    this.adapters = adapters;
    this.cableTypes = cableTypes;
  }

  @Override
  void check(Bench draft, DraftProblems problems) {
    mustExist("instrumentId", "instrument", draft.instrument().id(), instruments, problems);
    if (draft.endStandard() != null) {
      mustExist("endStandardId", "end standard", draft.endStandard().id(), endStandards, problems);
    }
    draft.adapters().forEach(a -> mustExist("adapterIds", "adapter", a.id(), adapters, problems));
    List<Long> adapterIds = draft.adapters().stream().map(Adapter::id).toList();
    if (new HashSet<>(adapterIds).size() < adapterIds.size()) {
      problems.add("adapterIds", Sentence.of("catalog.adapterTwice"));
    }
    ReferenceCable reference = draft.referenceCable();
    if (reference != null) {
      mustExist(
          "referenceCableTypeId", "cable type", reference.cableType().id(), cableTypes, problems);
      problems.above("referenceCableLengthMm", reference.lengthMm(), 0, 1e6, "mm");
    }
    problems.above("driftLimitDeg", draft.driftLimitDeg(), 0, 90, "°");
    problems.range("referenceIntervalMin", draft.referenceIntervalMin(), 1, 10_080, "min");
    check("transmissionBudget", draft.transmissionBudget(), problems);
    check("reflectionBudget", draft.reflectionBudget(), problems);
    problems.checkDay("calibrationDue", draft.calibrationDue());
  }

  private static void check(String field, Budget budget, DraftProblems problems) {
    if (budget.instrumentMagnitudeDb() != null) {
      problems.above(field + ".instrumentMagnitudeDb", budget.instrumentMagnitudeDb(), 0, 5, "dB");
    }
    problems.range(field + ".connectorDeg", budget.connectorDeg(), 0, 90, "°");
    problems.range(field + ".flexureDeg", budget.flexureDeg(), 0, 90, "°");
    problems.range(field + ".temperatureC", budget.temperatureC(), 0, 50, "°C");
  }

  private static void mustExist(
      String field, String noun, long id, Shelf<?> shelf, DraftProblems problems) {
    if (shelf.find(id).isEmpty()) {
      problems.add(field, DraftProblems.noSuch(noun, id));
    }
  }

  @Override
  Map<String, @Nullable Object> columns(Bench draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("instrument_id", draft.instrument().id());
    values.put("end_standard_id", draft.endStandard() == null ? null : draft.endStandard().id());
    ReferenceCable reference = draft.referenceCable();
    values.put("reference_cable_type_id", reference == null ? null : reference.cableType().id());
    values.put("reference_cable_length_mm", reference == null ? null : reference.lengthMm());
    values.put("drift_limit_deg", draft.driftLimitDeg());
    values.put("reference_interval_min", draft.referenceIntervalMin());
    values.put("calibration_due", draft.calibrationDue());
    return values;
  }

  @Override
  String details(Bench entry) {
    return DraftProblems.joined(
            entry.adapters().stream().map(Adapter::name).sorted().toList(), Function.identity())
        + "; transmission "
        + entry.transmissionBudget()
        + "; reflection "
        + entry.reflectionBudget();
  }

  @Override
  void writeChildren(long id, Bench draft) {
    clearChildren("bench_adapter", "bench_id", id);
    for (Adapter adapter : draft.adapters()) {
      jdbc()
          .sql("insert into bench_adapter (bench_id, adapter_id) values (:id, :adapterId)")
          .param("id", id)
          .param("adapterId", adapter.id())
          .update();
    }
    clearChildren("bench_budget", "bench_id", id);
    writeBudget(id, TRANSMISSION, draft.transmissionBudget());
    writeBudget(id, REFLECTION, draft.reflectionBudget());
  }

  private void writeBudget(long id, String way, Budget budget) {
    jdbc()
        .sql(
            """
            insert into bench_budget (bench_id, way, instrument_magnitude_db, connector_deg,
              flexure_deg, temperature_c)
            values (?, ?, ?, ?, ?, ?)
            """)
        .param(id)
        .param(way)
        .param(budget.instrumentMagnitudeDb())
        .param(budget.connectorDeg())
        .param(budget.flexureDeg())
        .param(budget.temperatureC())
        .update();
  }

  @Override
  RowMapper<Bench> reader(@Nullable Long onlyId) {
    Map<Long, Instrument> instrumentById = byId(instruments);
    Map<Long, EndStandard> endStandardById = byId(endStandards);
    Map<Long, Adapter> adapterById = byId(adapters);
    Map<Long, CableType> cableTypeById = byId(cableTypes);
    Map<Long, List<Long>> adapterIds =
        children(
            "bench_adapter",
            "bench_id",
            "adapter_id",
            onlyId,
            (row, i) -> row.getLong("adapter_id"));
    record WayBudget(String way, Budget budget) {}
    Map<Long, List<WayBudget>> budgets =
        children(
            "bench_budget",
            "bench_id",
            "way",
            onlyId,
            (row, i) ->
                new WayBudget(
                    row.getString("way"),
                    new Budget(
                        row.getObject("instrument_magnitude_db", Double.class),
                        row.getDouble("connector_deg"),
                        row.getDouble("flexure_deg"),
                        row.getDouble("temperature_c"))));
    BiFunction<Long, String, Budget> budget =
        (id, way) ->
            budgets.getOrDefault(id, List.of()).stream()
                .filter(b -> b.way().equals(way))
                .findFirst()
                .map(WayBudget::budget)
                .orElse(Budget.INSTRUMENT_ONLY);
    return (row, i) ->
        new Bench(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            Objects.requireNonNull(instrumentById.get(row.getLong("instrument_id"))),
            endStandardById.get(row.getLong("end_standard_id")),
            adapterIds.getOrDefault(row.getLong("id"), List.of()).stream()
                .map(id -> Objects.requireNonNull(adapterById.get(id)))
                .toList(),
            referenceCable(row, cableTypeById),
            row.getDouble("drift_limit_deg"),
            row.getInt("reference_interval_min"),
            budget.apply(row.getLong("id"), TRANSMISSION),
            budget.apply(row.getLong("id"), REFLECTION),
            Objects.requireNonNull(date(row, "calibration_due")),
            row.getString("note"));
  }

  private static @Nullable ReferenceCable referenceCable(
      ResultSet row, Map<Long, CableType> cableTypeById) throws SQLException {
    CableType cableType = cableTypeById.get(row.getLong("reference_cable_type_id"));
    return cableType == null
        ? null
        : new ReferenceCable(cableType, row.getDouble("reference_cable_length_mm"));
  }

  private static <T extends CatalogEntry> Map<Long, T> byId(Shelf<T> shelf) {
    return shelf.all().stream().collect(Collectors.toMap(CatalogEntry::id, Function.identity()));
  }
}
