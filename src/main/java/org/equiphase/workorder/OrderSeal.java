package org.equiphase.workorder;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.audit.Digest;
import org.equiphase.audit.RowIds;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What an order asks: its head, its specification and the offsets of its sets' positions. */
@Component
class OrderSeal implements Seal {

  private static final String KIND = "work order";

  private final JdbcClient jdbc;
  private final WorkOrderTables tables;

  OrderSeal(JdbcClient jdbc, WorkOrderTables tables) {
    this.jdbc = jdbc;
    this.tables = tables;
  }

  /** Seals an order as it is in the present transaction. */
  SealedRow seal(WorkOrder order) {
    return new SealedRow(
        KIND, order.id(), Objects.requireNonNull(digests(List.of(order)).get(order.id())));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    return digests(tables.orders(ids));
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "work_order", id, most);
  }

  private Map<Long, String> digests(List<WorkOrder> orders) {
    Map<Long, Digest> digests = new HashMap<>();
    orders.forEach(order -> digests.put(order.id(), head(order)));
    if (!orders.isEmpty()) {
      addPositions(digests);
    }
    Map<Long, String> finished = new HashMap<>();
    digests.forEach((id, digest) -> finished.put(id, digest.hex()));
    return finished;
  }

  private void addPositions(Map<Long, Digest> digests) {
    jdbc.sql(
            """
            select s.work_order_id, s.name, p.label, p.offset_phase_deg, p.offset_delay_ps
            from matched_set s join set_position p on p.matched_set_id = s.id
            where s.work_order_id in (:ids) order by s.work_order_id, s.id, p.ordinal
            """)
        .param("ids", digests.keySet())
        .query(
            row -> {
              Digest digest = digests.get(row.getLong("work_order_id"));
              if (digest != null) {
                digest
                    .text(row.getString("name"))
                    .text(row.getString("label"))
                    .number(row.getDouble("offset_phase_deg"))
                    .number(row.getDouble("offset_delay_ps"));
              }
            });
  }

  private static Digest head(WorkOrder order) {
    Specification s = order.specification();
    Digest digest =
        new Digest()
            .whole(order.id())
            .text(order.number())
            .text(order.title())
            .text(order.revision())
            .text(order.dueOn() == null ? null : order.dueOn().toString())
            .time(order.createdAt())
            .text(order.createdBy())
            .whole(s.cableTypeId())
            .text(s.connector())
            .number(s.connectorTorqueNm())
            .text(s.method().name())
            .text(s.basis().name())
            .text(s.turns().name())
            .number(s.nominalLengthMm())
            .number(s.nominalLengthToleranceMm())
            .number(s.nominalDelayNs())
            .number(s.trimAllowanceMm())
            .number(s.cutResolutionMm())
            .number(s.cutStandardUncertaintyMm())
            .number(s.tooShortLimit())
            .whole(s.lineStretcherId())
            .number(s.stretcherStartMm())
            .number(s.aimFraction())
            .number(s.vswrLimit())
            .number(s.referenceTemperatureC())
            .number(s.temperatureLowC())
            .number(s.temperatureHighC())
            .text(s.decisionRule().name())
            .number(s.guardFactor())
            .whole((long) s.frequencies().size());
    for (FrequencySpecification frequency : s.frequencies()) {
      digest
          .number(frequency.frequencyHz())
          .number(frequency.toleranceDeg())
          .number(frequency.insertionLossLimitDb())
          .number(frequency.insertionLossSpreadDb())
          .number(frequency.nominalPhaseDeg());
    }
    // Orders sealed before connectors had lengths keep their digest.
    if (s.connectorElectricalMm() != 0 || s.connectorCableMm() != 0) {
      digest.text("connector").number(s.connectorElectricalMm()).number(s.connectorCableMm());
    }
    return digest;
  }
}
