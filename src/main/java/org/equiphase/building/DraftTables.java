package org.equiphase.building;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.equiphase.building.Draft.Place;
import org.equiphase.workorder.SetPosition;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Drafts as they are kept; every update tells whether the version held. */
@Repository
class DraftTables {

  private final JdbcClient jdbc;

  DraftTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  Optional<Draft> draft(long orderId) {
    return jdbc.sql("select * from building_draft where work_order_id = ?")
        .param(orderId)
        .query(this::toDraft)
        .optional();
  }

  /** Keeps an order's draft from others until the transaction ends. */
  void lock(long orderId) {
    jdbc.sql("select version from building_draft where work_order_id = ? for update")
        .param(orderId)
        .query()
        .listOfRows();
  }

  /** Stores a proposal in place of the draft of that version; 0 for none. */
  boolean replace(Draft draft, int version) {
    int rows =
        version == 0
            ? jdbc.sql(
                    """
                    insert into building_draft (work_order_id, version, standing, set_size, rule,
                      tolerance_percent, cuts, upper_bound, proven, proposed_by, proposed_at)
                    values (?, 1, true, 0, '', 0, false, 0, false, '', current_timestamp)
                    on conflict do nothing
                    """)
                .param(draft.orderId())
                .update()
            : touched(draft.orderId(), version);
    if (rows == 0) {
      return false;
    }
    Ask ask = draft.ask();
    jdbc.sql(
            """
            update building_draft set standing = true, set_size = ?, rule = ?, wanted_sets = ?,
              tolerance_percent = ?, cuts = ?, upper_bound = ?, proven = ?, proposed_by = ?,
              proposed_at = ?
            where work_order_id = ?
            """)
        .param(ask.setSize())
        .param(ask.rule().name())
        .param(ask.wantedSets())
        .param(ask.tolerancePercent())
        .param(ask.cuts())
        .param(draft.upperBound())
        .param(draft.proven())
        .param(draft.proposedBy())
        .param(draft.proposedAt().atOffset(ZoneOffset.UTC))
        .param(draft.orderId())
        .update();
    jdbc.sql("delete from building_draft_position where work_order_id = ?")
        .param(draft.orderId())
        .update();
    for (SetPosition position : ask.positions()) {
      jdbc.sql("insert into building_draft_position values (?, ?, ?, ?, ?)")
          .param(draft.orderId())
          .param(position.ordinal())
          .param(position.label())
          .param(position.offsetPhaseDeg())
          .param(position.offsetDelayPs())
          .update();
    }
    places(draft.orderId(), draft.places());
    return true;
  }

  /** Puts its members elsewhere. */
  boolean move(long orderId, int version, List<Place> places) {
    if (touched(orderId, version) == 0) {
      return false;
    }
    places(orderId, places);
    return true;
  }

  /** Ends a draft. */
  boolean end(long orderId, int version) {
    if (touched(orderId, version) == 0) {
      return false;
    }
    jdbc.sql("update building_draft set standing = false where work_order_id = ?")
        .param(orderId)
        .update();
    places(orderId, List.of());
    return true;
  }

  private int touched(long orderId, int version) {
    return jdbc.sql(
            """
            update building_draft set version = version + 1 where work_order_id = ? and version = ?
            """)
        .param(orderId)
        .param(version)
        .update();
  }

  private void places(long orderId, List<Place> places) {
    jdbc.sql("delete from building_draft_member where work_order_id = ?").param(orderId).update();
    for (Place place : places) {
      jdbc.sql("insert into building_draft_member values (?, ?, ?, ?)")
          .param(orderId)
          .param(place.assemblyId())
          .param(place.setNumber())
          .param(place.ordinal())
          .update();
    }
  }

  private Draft toDraft(ResultSet row, int number) throws SQLException {
    long orderId = row.getLong("work_order_id");
    return new Draft(
        orderId,
        row.getInt("version"),
        row.getBoolean("standing"),
        new Ask(
            Rule.valueOf(row.getString("rule")),
            row.getObject("wanted_sets", Integer.class),
            row.getDouble("tolerance_percent"),
            row.getBoolean("cuts"),
            positions(orderId)),
        row.getInt("upper_bound"),
        row.getBoolean("proven"),
        row.getString("proposed_by"),
        row.getObject("proposed_at", OffsetDateTime.class).toInstant(),
        jdbc.sql(
                """
                select * from building_draft_member where work_order_id = ?
                order by set_number, ordinal, assembly_id
                """)
            .param(orderId)
            .query(
                (place, n) ->
                    new Place(
                        place.getLong("assembly_id"),
                        place.getInt("set_number"),
                        place.getInt("ordinal")))
            .list());
  }

  private List<SetPosition> positions(long orderId) {
    return jdbc.sql(
            "select * from building_draft_position where work_order_id = ? order by ordinal")
        .param(orderId)
        .query(
            (row, n) ->
                new SetPosition(
                    0,
                    row.getInt("ordinal"),
                    row.getString("label"),
                    row.getDouble("offset_phase_deg"),
                    row.getDouble("offset_delay_ps")))
        .list();
  }
}
