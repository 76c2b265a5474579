package org.equiphase.workorder;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.equiphase.web.Like;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;

/**
 * Where open orders stand, for whoever shows many at once: one query for each table, however many
 * orders. An order is open while an assembly of it is neither released nor given up for good.
 */
@Repository
@Transactional(readOnly = true)
public class OrderStandings {

  private static final String OPEN =
      """
      from work_order w where exists (select 1 from assembly a where a.work_order_id = w.id
        and a.state not in ('RELEASED', 'REPLACED')
        and (a.state <> 'SCRAPPED' or a.position_id is not null))
      """;

  private final JdbcClient jdbc;

  OrderStandings(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /**
   * An open order.
   *
   * @param stretcher whether its assemblies carry line stretchers
   */
  public record OpenOrder(
      long id,
      String number,
      String revision,
      String title,
      @Nullable LocalDate dueOn,
      long cableTypeId,
      double trimAllowanceMm,
      boolean stretcher) {}

  /**
   * How many assemblies of an order stand alike.
   *
   * @param placed whether they hold a position of a set
   */
  public record Count(
      long orderId, AssemblyState state, String cableLot, boolean placed, int assemblies) {}

  /** How many sets an order has. */
  public record SetCount(int sets, int matched, int released) {}

  /**
   * Those promised first come first, those without a date last.
   *
   * @param search beginning of an order's number; empty for all
   */
  public List<OpenOrder> open(String search, int from, int most) {
    return jdbc.sql(
            "select w.* "
                + OPEN
                + """
                  and lower(w.number) like :search escape '!'
                order by w.due_on nulls last, w.number limit :most offset :from
                """)
        .param("search", Like.beginning(search.toLowerCase(Locale.ROOT)))
        .param("most", most)
        .param("from", from)
        .query(
            (row, n) ->
                new OpenOrder(
                    row.getLong("id"),
                    row.getString("number"),
                    row.getString("revision"),
                    row.getString("title"),
                    row.getObject("due_on", LocalDate.class),
                    row.getLong("cable_type_id"),
                    row.getDouble("trim_allowance_mm"),
                    row.getObject("line_stretcher_id") != null))
        .list();
  }

  /** How many orders are open and promised on a day or before; null for all. */
  public long openCount(@Nullable LocalDate dueBy) {
    return jdbc.sql("select count(*) " + OPEN + (dueBy == null ? "" : " and w.due_on <= :dueBy"))
        .params(dueBy == null ? Map.of() : Map.of("dueBy", dueBy))
        .query(Long.class)
        .single();
  }

  public List<Count> counts(Collection<Long> orderIds) {
    return orderIds.isEmpty()
        ? List.of()
        : jdbc.sql(
                """
                select work_order_id, state, cable_lot,
                  case when position_id is null then 0 else 1 end placed, count(*) n
                from assembly where work_order_id in (:ids)
                group by work_order_id, state, cable_lot,
                  case when position_id is null then 0 else 1 end
                """)
            .param("ids", orderIds)
            .query(
                (row, n) ->
                    new Count(
                        row.getLong("work_order_id"),
                        AssemblyState.valueOf(row.getString("state")),
                        row.getString("cable_lot"),
                        row.getInt("placed") == 1,
                        row.getInt("n")))
            .list();
  }

  /** By order; those without a set are left out. */
  public Map<Long, SetCount> sets(Collection<Long> orderIds) {
    Map<Long, SetCount> counts = new HashMap<>();
    if (!orderIds.isEmpty()) {
      jdbc.sql(
              """
              select work_order_id, count(*) n, count(matched_at) m, count(released_at) r
              from matched_set where work_order_id in (:ids) group by work_order_id
              """)
          .param("ids", orderIds)
          .query(
              row -> {
                counts.put(
                    row.getLong("work_order_id"),
                    new SetCount(row.getInt("n"), row.getInt("m"), row.getInt("r")));
              });
    }
    return counts;
  }

  /** How many of some assemblies wait for a reading, a cut or a setting. */
  public long toDo(Collection<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? 0
        : jdbc.sql(
                """
                select count(*) from assembly where id in (:ids)
                  and state in ('AWAITING_READING', 'INSTRUCTED', 'ADJUSTED')
                """)
            .param("ids", assemblyIds)
            .query(Long.class)
            .single();
  }
}
