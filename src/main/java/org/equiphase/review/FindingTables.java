package org.equiphase.review;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.Collection;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.equiphase.review.Finding.Kind;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Findings as they are kept. */
@Repository
class FindingTables {

  private static final LocalDate NO_DATE = LocalDate.of(9999, 12, 31);
  private static final LocalDate EARLIEST = LocalDate.of(1, 1, 1);
  private static final String ORDER = "due_on, missing, severity, since, id";

  private final JdbcClient jdbc;

  FindingTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /** Which finding of which assembly. */
  record Key(long assemblyId, Kind kind) {}

  /** Brings the findings of a set to what they are now; how long a finding stands is kept. */
  void replace(long setId, Map<Key, Finding> now, Set<Key> listed) {
    Map<Key, Long> kept = new HashMap<>();
    jdbc.sql("select id, assembly_id, kind from review_finding where matched_set_id = ?")
        .param(setId)
        .query(
            row -> {
              kept.put(
                  new Key(row.getLong("assembly_id"), Kind.valueOf(row.getString("kind"))),
                  row.getLong("id"));
            });
    Set<Key> gone = new HashSet<>(kept.keySet());
    gone.removeAll(now.keySet());
    gone.forEach(
        key -> jdbc.sql("delete from review_finding where id = ?").param(kept.get(key)).update());
    now.forEach(
        (key, finding) -> {
          Long id = kept.get(key);
          if (id == null) {
            insert(finding, listed.contains(key));
          } else {
            update(id, finding, listed.contains(key));
          }
        });
  }

  private void insert(Finding f, boolean listed) {
    // A member that came here from another set brings no finding of that place along.
    jdbc.sql("delete from review_finding where assembly_id = ? and kind = ?")
        .param(f.assemblyId())
        .param(f.kind().name())
        .update();
    facts(
            jdbc.sql(
                """
                insert into review_finding (assembly_id, kind, matched_set_id, work_order_id,
                  order_number, set_name, position_label, serial, serial_lower, order_lower,
                  cable_type_id, cable_lot, severity, bench_id, measured_by, due_on, missing,
                  probability_in, worst_error_deg, worst_limit_deg, worst_hz, reason, since, listed)
                values (:assembly, :kind, :set,
                  (select work_order_id from matched_set where id = :set), :order, :setName,
                  :position, :serial, :serialLower, :orderLower, :cableType, :lot, :severity,
                  :bench, :measuredBy, :dueOn, :missing, :probability, :worstError, :worstLimit,
                  :worstHz, :reason, :since, :listed)
                """),
            f,
            listed)
        .param("assembly", f.assemblyId())
        .param("kind", f.kind().name())
        .param("set", f.setId())
        .param("order", f.orderNumber())
        .param("setName", f.setName())
        .param("position", f.position())
        .param("serial", f.serial())
        .param("serialLower", f.serial().toLowerCase(Locale.ROOT))
        .param("orderLower", f.orderNumber().toLowerCase(Locale.ROOT))
        .param("cableType", f.cableTypeId())
        .param("lot", f.cableLot())
        .param("severity", f.kind().ordinal())
        .param("since", f.since().atOffset(ZoneOffset.UTC))
        .update();
  }

  private void update(long id, Finding f, boolean listed) {
    facts(
            jdbc.sql(
                """
                update review_finding set bench_id = :bench, measured_by = :measuredBy,
                  due_on = :dueOn, missing = :missing, probability_in = :probability,
                  worst_error_deg = :worstError, worst_limit_deg = :worstLimit,
                  worst_hz = :worstHz, reason = :reason, listed = :listed
                where id = :id
                """),
            f,
            listed)
        .param("id", id)
        .update();
  }

  private static JdbcClient.StatementSpec facts(
      JdbcClient.StatementSpec statement, Finding f, boolean listed) {
    return statement
        .param("bench", f.benchId())
        .param("measuredBy", f.measuredBy())
        .param("dueOn", f.dueOn() == null ? NO_DATE : f.dueOn())
        .param("missing", f.missing())
        .param("probability", f.probabilityIn())
        .param("worstError", f.worstErrorDeg())
        .param("worstLimit", f.worstLimitDeg())
        .param("worstHz", f.worstHz())
        .param("reason", f.reason())
        .param("listed", listed);
  }

  void setDueOn(long orderId, @Nullable LocalDate dueOn) {
    jdbc.sql("update review_finding set due_on = ? where work_order_id = ?")
        .param(dueOn == null ? NO_DATE : dueOn)
        .param(orderId)
        .update();
  }

  /** Lists those at risk by another limit. */
  void setRiskLimit(double probability) {
    jdbc.sql("update review_finding set listed = (probability_in < ?) where kind = 'AT_RISK'")
        .param(probability)
        .update();
  }

  /** Listed findings in the order of the queue. */
  List<Finding> find(QueueFilter filter, int most) {
    StringBuilder where = new StringBuilder("listed");
    Map<String, Object> values = new HashMap<>();
    filter.conditions(where, values);
    Long after = filter.after();
    // Where the last finding of the page before is gone, its place is, too.
    Optional<LocalDate> from = after == null ? Optional.empty() : dueOn(after);
    String order = ORDER;
    if (!filter.isNarrow()) {
      // With the bound, and the column of one value, the database reads along the index.
      where.append(" and due_on >= :from");
      values.put("from", from.orElse(EARLIEST));
      order = "listed, " + ORDER;
    }
    if (from.isPresent()) {
      where.append(
          " and (due_on, missing, severity, since, id) > (select "
              + ORDER
              + " from review_finding where id = :after)");
      values.put("after", after);
    }
    values.put("most", most);
    return jdbc.sql(
            "select * from review_finding where " + where + " order by " + order + " limit :most")
        .params(values)
        .query(FindingTables::toFinding)
        .list();
  }

  private Optional<LocalDate> dueOn(long id) {
    return jdbc.sql("select due_on from review_finding where id = ?")
        .param(id)
        .query(LocalDate.class)
        .optional();
  }

  List<Finding> byIds(List<Long> ids) {
    return ids.isEmpty()
        ? List.of()
        : jdbc.sql("select * from review_finding where id in (:ids) order by " + ORDER)
            .param("ids", ids)
            .query(FindingTables::toFinding)
            .list();
  }

  /** How many there are of each kind, by the same filter but for the kind. */
  Map<Kind, Long> counts(QueueFilter filter) {
    StringBuilder where = new StringBuilder("listed");
    Map<String, Object> values = new HashMap<>();
    filter.withKinds(List.of()).conditions(where, values);
    Map<Kind, Long> counts = new EnumMap<>(Kind.class);
    jdbc.sql("select kind, count(*) n from review_finding where " + where + " group by kind")
        .params(values)
        .query(
            row -> {
              counts.put(Kind.valueOf(row.getString("kind")), row.getLong("n"));
            });
    return counts;
  }

  /** How many there are of each kind, by order. */
  Map<Long, Map<Kind, Long>> countsByOrder(Collection<Long> orderIds) {
    Map<Long, Map<Kind, Long>> counts = new HashMap<>();
    if (!orderIds.isEmpty()) {
      jdbc.sql(
              """
              select work_order_id, kind, count(*) n from review_finding
              where listed and work_order_id in (:ids) group by work_order_id, kind
              """)
          .param("ids", orderIds)
          .query(
              row -> {
                counts
                    .computeIfAbsent(row.getLong("work_order_id"), id -> new EnumMap<>(Kind.class))
                    .put(Kind.valueOf(row.getString("kind")), row.getLong("n"));
              });
    }
    return counts;
  }

  long blockedOrders() {
    return jdbc.sql(
            """
            select count(distinct work_order_id) from review_finding
            where listed and kind in (:kinds)
            """)
        .param("kinds", Arrays.stream(Kind.values()).filter(Kind::blocks).map(Kind::name).toList())
        .query(Long.class)
        .single();
  }

  /** Sets older than this table whose findings are not filled in yet, the next ones by id. */
  List<Long> setsToFill(int most) {
    return jdbc.sql(
            """
            select s.id from matched_set s
            join review_finding_fill f on s.id > f.last_set_id and s.id <= f.until_set_id
            order by s.id limit ?
            """)
        .param(most)
        .query(Long.class)
        .list();
  }

  void filled(long setId) {
    jdbc.sql("update review_finding_fill set last_set_id = ? where id = 1").param(setId).update();
  }

  private static Finding toFinding(ResultSet row, int number) throws SQLException {
    LocalDate dueOn = row.getObject("due_on", LocalDate.class);
    return new Finding(
        row.getLong("id"),
        Kind.valueOf(row.getString("kind")),
        row.getLong("assembly_id"),
        row.getString("serial"),
        row.getLong("matched_set_id"),
        row.getString("set_name"),
        row.getString("position_label"),
        row.getString("order_number"),
        row.getLong("cable_type_id"),
        row.getString("cable_lot"),
        row.getObject("bench_id", Long.class),
        row.getString("measured_by"),
        NO_DATE.equals(dueOn) ? null : dueOn,
        row.getInt("missing"),
        row.getObject("probability_in", Double.class),
        row.getObject("worst_error_deg", Double.class),
        row.getObject("worst_limit_deg", Double.class),
        row.getObject("worst_hz", Double.class),
        row.getString("reason"),
        row.getObject("since", OffsetDateTime.class).toInstant());
  }
}
