package org.equiphase.workorder;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

/** Orders, sets and positions; every update of a versioned row tells whether the version held. */
@Repository
class WorkOrderTables {

  private final JdbcClient jdbc;

  WorkOrderTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  List<WorkOrder> orders() {
    return jdbc.sql("select * from work_order order by id desc").query(this::toOrder).list();
  }

  List<WorkOrder> orders(Collection<Long> ids) {
    return jdbc.sql("select * from work_order where id in (:ids)")
        .param("ids", ids)
        .query(this::toOrder)
        .list();
  }

  Optional<WorkOrder> order(long id) {
    return jdbc.sql("select * from work_order where id = ?")
        .param(id)
        .query(this::toOrder)
        .optional();
  }

  Optional<WorkOrder> orderByNumber(String number) {
    return jdbc.sql("select * from work_order where number = ?")
        .param(number)
        .query(this::toOrder)
        .optional();
  }

  long insertOrder(OrderDraft draft, Instant at, String by) {
    Specification s = draft.specification();
    KeyHolder key = new GeneratedKeyHolder();
    specification(
            jdbc.sql(
                """
                insert into work_order (version, number, title, revision, due_on, created_at,
                  created_by, cable_type_id, connector, connector_torque_nm,
                  connector_electrical_mm, connector_cable_mm, method, basis, turns,
                  nominal_length_mm, nominal_length_tolerance_mm, nominal_delay_ns,
                  trim_allowance_mm, cut_resolution_mm, cut_standard_uncertainty_mm, too_short_limit,
                  line_stretcher_id, stretcher_start_mm, aim_fraction, vswr_limit,
                  reference_temperature_c, temperature_low_c, temperature_high_c, decision_rule,
                  guard_factor)
                values (0, :number, :title, 'A', :dueOn, :createdAt, :createdBy, :cableTypeId,
                  :connector, :connectorTorqueNm, :connectorElectricalMm, :connectorCableMm, :method, :basis, :turns, :nominalLengthMm,
                  :nominalLengthToleranceMm, :nominalDelayNs, :trimAllowanceMm, :cutResolutionMm,
                  :cutStandardUncertaintyMm, :tooShortLimit, :lineStretcherId, :stretcherStartMm,
                  :aimFraction, :vswrLimit, :referenceTemperatureC, :temperatureLowC,
                  :temperatureHighC, :decisionRule, :guardFactor)
                """),
            s)
        .param("number", draft.number())
        .param("title", draft.title())
        .param("dueOn", draft.dueOn())
        .param("createdAt", at.atOffset(ZoneOffset.UTC))
        .param("createdBy", by)
        .update(key, "id");
    long id = id(key);
    insertFrequencies(id, s);
    return id;
  }

  boolean updateOrder(
      long id,
      int version,
      String title,
      @Nullable LocalDate dueOn,
      Specification s,
      String revision) {
    int rows =
        specification(
                jdbc.sql(
                    """
                    update work_order set version = version + 1, title = :title, due_on = :dueOn,
                      revision = :revision, cable_type_id = :cableTypeId, connector = :connector,
                      connector_torque_nm = :connectorTorqueNm,
                      connector_electrical_mm = :connectorElectricalMm,
                      connector_cable_mm = :connectorCableMm, method = :method, basis = :basis,
                      turns = :turns, nominal_length_mm = :nominalLengthMm,
                      nominal_length_tolerance_mm = :nominalLengthToleranceMm,
                      nominal_delay_ns = :nominalDelayNs, trim_allowance_mm = :trimAllowanceMm,
                      cut_resolution_mm = :cutResolutionMm,
                      cut_standard_uncertainty_mm = :cutStandardUncertaintyMm,
                      too_short_limit = :tooShortLimit, line_stretcher_id = :lineStretcherId,
                      stretcher_start_mm = :stretcherStartMm, aim_fraction = :aimFraction,
                      vswr_limit = :vswrLimit, reference_temperature_c = :referenceTemperatureC,
                      temperature_low_c = :temperatureLowC, temperature_high_c = :temperatureHighC,
                      decision_rule = :decisionRule, guard_factor = :guardFactor
                    where id = :id and version = :version
                    """),
                s)
            .param("id", id)
            .param("version", version)
            .param("title", title)
            .param("dueOn", dueOn)
            .param("revision", revision)
            .update();
    if (rows == 0) {
      return false;
    }
    jdbc.sql("delete from specification_frequency where work_order_id = ?").param(id).update();
    insertFrequencies(id, s);
    return true;
  }

  private static JdbcClient.StatementSpec specification(
      JdbcClient.StatementSpec statement, Specification s) {
    return statement
        .param("cableTypeId", s.cableTypeId())
        .param("connector", s.connector())
        .param("connectorTorqueNm", s.connectorTorqueNm())
        .param("connectorElectricalMm", s.connectorElectricalMm())
        .param("connectorCableMm", s.connectorCableMm())
        .param("method", s.method().name())
        .param("basis", s.basis().name())
        .param("turns", s.turns().name())
        .param("nominalLengthMm", s.nominalLengthMm())
        .param("nominalLengthToleranceMm", s.nominalLengthToleranceMm())
        .param("nominalDelayNs", s.nominalDelayNs())
        .param("trimAllowanceMm", s.trimAllowanceMm())
        .param("cutResolutionMm", s.cutResolutionMm())
        .param("cutStandardUncertaintyMm", s.cutStandardUncertaintyMm())
        .param("tooShortLimit", s.tooShortLimit())
        .param("lineStretcherId", s.lineStretcherId())
        .param("stretcherStartMm", s.stretcherStartMm())
        .param("aimFraction", s.aimFraction())
        .param("vswrLimit", s.vswrLimit())
        .param("referenceTemperatureC", s.referenceTemperatureC())
        .param("temperatureLowC", s.temperatureLowC())
        .param("temperatureHighC", s.temperatureHighC())
        .param("decisionRule", s.decisionRule().name())
        .param("guardFactor", s.guardFactor());
  }

  private void insertFrequencies(long orderId, Specification s) {
    for (int k = 0; k < s.frequencies().size(); k++) {
      FrequencySpecification f = s.frequencies().get(k);
      jdbc.sql(
              """
              insert into specification_frequency (work_order_id, ordinal, frequency_hz,
                tolerance_deg, insertion_loss_limit_db, insertion_loss_spread_db, nominal_phase_deg)
              values (?, ?, ?, ?, ?, ?, ?)
              """)
          .param(orderId)
          .param(k)
          .param(f.frequencyHz())
          .param(f.toleranceDeg())
          .param(f.insertionLossLimitDb())
          .param(f.insertionLossSpreadDb())
          .param(f.nominalPhaseDeg())
          .update();
    }
  }

  /** Returns the ids of its positions, in their order. */
  List<Long> insertSet(long orderId, SetDraft set) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into matched_set (version, work_order_id, name, master_serial)
            values (0, ?, ?, ?)
            """)
        .param(orderId)
        .param(set.name())
        .param(set.masterSerial())
        .update(key, "id");
    long setId = id(key);
    List<Long> positionIds = new ArrayList<>();
    for (int i = 0; i < set.positions().size(); i++) {
      PositionDraft position = set.positions().get(i);
      KeyHolder positionKey = new GeneratedKeyHolder();
      jdbc.sql(
              """
              insert into set_position
                (matched_set_id, ordinal, label, offset_phase_deg, offset_delay_ps)
              values (?, ?, ?, ?, ?)
              """)
          .param(setId)
          .param(i)
          .param(position.label())
          .param(position.offsetPhaseDeg())
          .param(position.offsetDelayPs())
          .update(positionKey, "id");
      positionIds.add(id(positionKey));
    }
    return positionIds;
  }

  List<MatchedSet> setsOf(long orderId) {
    return jdbc.sql("select * from matched_set where work_order_id = ? order by id")
        .param(orderId)
        .query(this::toSet)
        .list();
  }

  Optional<MatchedSet> set(long id) {
    return jdbc.sql("select * from matched_set where id = ?")
        .param(id)
        .query(this::toSet)
        .optional();
  }

  void lockSet(long id) {
    jdbc.sql("select id from matched_set where id = ? for update").param(id).query().listOfRows();
  }

  void updateOffset(SetPosition position, PositionDraft asked) {
    jdbc.sql("update set_position set offset_phase_deg = ?, offset_delay_ps = ? where id = ?")
        .param(asked.offsetPhaseDeg())
        .param(asked.offsetDelayPs())
        .param(position.id())
        .update();
  }

  void passOnMaster(Assembly old, String newSerial) {
    jdbc.sql(
            """
            update matched_set set version = version + 1, master_serial = ?
            where id = ? and master_serial = ?
            """)
        .param(newSerial)
        .param(old.setId())
        .param(old.serial())
        .update();
  }

  boolean touchSet(MatchedSet set) {
    return jdbc.sql("update matched_set set version = version + 1 where id = ? and version = ?")
            .param(set.id())
            .param(set.version())
            .update()
        == 1;
  }

  void insertCenter(long setId, List<Double> centerDeg) {
    for (int k = 0; k < centerDeg.size(); k++) {
      jdbc.sql("insert into matched_set_center values (?, ?, ?)")
          .param(setId)
          .param(k)
          .param(centerDeg.get(k))
          .update();
    }
  }

  void deleteCenter(long setId) {
    jdbc.sql("delete from matched_set_center where matched_set_id = ?").param(setId).update();
  }

  boolean updateMatched(MatchedSet set, @Nullable Instant at) {
    return jdbc.sql(
                """
                update matched_set set version = version + 1, matched_at = ?
                where id = ? and version = ?
                """)
            .param(at == null ? null : at.atOffset(ZoneOffset.UTC))
            .param(set.id())
            .param(set.version())
            .update()
        == 1;
  }

  boolean updateReleased(MatchedSet set, @Nullable Instant at) {
    return jdbc.sql(
                """
                update matched_set set version = version + 1, released_at = ?
                where id = ? and version = ?
                """)
            .param(at == null ? null : at.atOffset(ZoneOffset.UTC))
            .param(set.id())
            .param(set.version())
            .update()
        == 1;
  }

  private WorkOrder toOrder(ResultSet row, int number) throws SQLException {
    long id = row.getLong("id");
    Specification specification =
        new Specification(
            row.getLong("cable_type_id"),
            row.getString("connector"),
            row.getObject("connector_torque_nm", Double.class),
            row.getDouble("connector_electrical_mm"),
            row.getDouble("connector_cable_mm"),
            Method.valueOf(row.getString("method")),
            Basis.valueOf(row.getString("basis")),
            Turns.valueOf(row.getString("turns")),
            row.getDouble("nominal_length_mm"),
            row.getDouble("nominal_length_tolerance_mm"),
            row.getObject("nominal_delay_ns", Double.class),
            row.getDouble("trim_allowance_mm"),
            row.getDouble("cut_resolution_mm"),
            row.getDouble("cut_standard_uncertainty_mm"),
            row.getDouble("too_short_limit"),
            row.getObject("line_stretcher_id", Long.class),
            row.getObject("stretcher_start_mm", Double.class),
            row.getDouble("aim_fraction"),
            row.getObject("vswr_limit", Double.class),
            row.getDouble("reference_temperature_c"),
            row.getObject("temperature_low_c", Double.class),
            row.getObject("temperature_high_c", Double.class),
            DecisionRule.valueOf(row.getString("decision_rule")),
            row.getDouble("guard_factor"),
            frequencies(id));
    return new WorkOrder(
        id,
        row.getInt("version"),
        row.getString("number"),
        row.getString("title"),
        row.getString("revision"),
        row.getObject("due_on", LocalDate.class),
        row.getObject("created_at", OffsetDateTime.class).toInstant(),
        row.getString("created_by"),
        specification);
  }

  private List<FrequencySpecification> frequencies(long orderId) {
    return jdbc.sql(
            "select * from specification_frequency where work_order_id = ? order by ordinal")
        .param(orderId)
        .query(
            (row, n) ->
                new FrequencySpecification(
                    row.getDouble("frequency_hz"),
                    row.getDouble("tolerance_deg"),
                    row.getObject("insertion_loss_limit_db", Double.class),
                    row.getObject("insertion_loss_spread_db", Double.class),
                    row.getObject("nominal_phase_deg", Double.class)))
        .list();
  }

  private MatchedSet toSet(ResultSet row, int number) throws SQLException {
    long id = row.getLong("id");
    OffsetDateTime matchedAt = row.getObject("matched_at", OffsetDateTime.class);
    return new MatchedSet(
        id,
        row.getInt("version"),
        row.getLong("work_order_id"),
        row.getString("name"),
        row.getString("master_serial"),
        instant(matchedAt),
        jdbc.sql(
                "select center_deg from matched_set_center where matched_set_id = ? order by ordinal")
            .param(id)
            .query(Double.class)
            .list(),
        positions(id),
        instant(row.getObject("released_at", OffsetDateTime.class)));
  }

  private static @Nullable Instant instant(@Nullable OffsetDateTime at) {
    return at == null ? null : at.toInstant();
  }

  private List<SetPosition> positions(long setId) {
    return jdbc.sql("select * from set_position where matched_set_id = ? order by ordinal")
        .param(setId)
        .query(
            (row, n) ->
                new SetPosition(
                    row.getLong("id"),
                    row.getInt("ordinal"),
                    row.getString("label"),
                    row.getDouble("offset_phase_deg"),
                    row.getDouble("offset_delay_ps")))
        .list();
  }

  private static long id(KeyHolder key) {
    Number id = key.getKey();
    if (id == null) {
      throw new IllegalStateException("the database gave no key");
    }
    return id.longValue();
  }
}
