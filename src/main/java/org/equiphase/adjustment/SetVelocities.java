package org.equiphase.adjustment;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.equiphase.adjustment.SetPlan.Velocity;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.matching.VelocityFactorLearning;
import org.equiphase.matching.VelocityFactorLearning.CutOutcome;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.WorkOrder;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * The velocity factor that each set is planned with. It is learned anew whenever instructions are
 * issued, and kept until then, so that a page shows no other cuts than were issued.
 */
@Component
class SetVelocities {

  private static final int MOST_OUTLIERS_NAMED = 40;

  private final JdbcClient jdbc;
  private final LotVelocity lots;

  SetVelocities(JdbcClient jdbc, LotVelocity lots) {
    this.jdbc = jdbc;
    this.lots = lots;
  }

  /**
   * The lot that a set's cuts are learned from; the order where its members name none, or several.
   */
  static String lot(WorkOrder order, List<Assembly> members) {
    List<String> lots = members.stream().map(Assembly::cableLot).distinct().toList();
    return lots.size() == 1 ? lot(order, members.get(0)) : ofOrder(order);
  }

  static String lot(WorkOrder order, Assembly member) {
    return member.cableLot().isEmpty() ? ofOrder(order) : member.cableLot();
  }

  private static String ofOrder(WorkOrder order) {
    return "order " + order.number();
  }

  /** As learned last; before that, as the catalog gives it. */
  Velocity of(MatchedSet set, WorkOrder order, CableType cable, List<Assembly> members) {
    String lot = lot(order, members);
    return stored(set, lot)
        .orElseGet(
            () -> {
              VelocityFactorEstimate catalog =
                  VelocityFactorEstimate.ofTolerance(
                      cable.velocityFactor(), cable.velocityFactorTolerance());
              return new Velocity(
                  lot, catalog.velocityFactor(), catalog.standardUncertainty(), 0, List.of());
            });
  }

  /** Learns from the lot's cuts and keeps the answer for the set. */
  void learn(MatchedSet set, WorkOrder order, CableType cable, List<Assembly> members) {
    VelocityFactorLearning learning =
        lots.learn(cable, lot(order, members), order.specification().cutStandardUncertaintyMm());
    String outliers =
        String.join(
            " ",
            learning.cuts().stream()
                .filter(c -> !c.used())
                .map(CutOutcome::serial)
                .distinct()
                .limit(MOST_OUTLIERS_NAMED)
                .toList());
    if (update(set, learning, outliers) == 0) {
      insert(set, learning, outliers);
    }
  }

  private int update(MatchedSet set, VelocityFactorLearning learning, String outliers) {
    return jdbc.sql(
            """
            update set_velocity set velocity_factor = ?, standard_uncertainty = ?, cuts = ?,
              outliers = ?
            where matched_set_id = ?
            """)
        .param(learning.estimate().velocityFactor())
        .param(learning.estimate().standardUncertainty())
        .param(learning.cutsUsed())
        .param(outliers)
        .param(set.id())
        .update();
  }

  private void insert(MatchedSet set, VelocityFactorLearning learning, String outliers) {
    jdbc.sql("insert into set_velocity values (?, ?, ?, ?, ?)")
        .param(set.id())
        .param(learning.estimate().velocityFactor())
        .param(learning.estimate().standardUncertainty())
        .param(learning.cutsUsed())
        .param(outliers)
        .update();
  }

  private Optional<Velocity> stored(MatchedSet set, String lot) {
    return jdbc.sql("select * from set_velocity where matched_set_id = ?")
        .param(set.id())
        .query(
            (row, n) ->
                new Velocity(
                    lot,
                    row.getDouble("velocity_factor"),
                    row.getDouble("standard_uncertainty"),
                    row.getInt("cuts"),
                    serials(row.getString("outliers"))))
        .optional();
  }

  private static List<String> serials(String joined) {
    return Arrays.stream(joined.split(" ")).filter(s -> !s.isEmpty()).toList();
  }
}
