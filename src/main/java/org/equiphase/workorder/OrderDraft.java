package org.equiphase.workorder;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A work order as a planner writes it; {@link WorkOrders#create} checks it as a whole.
 *
 * @param cableLot lot of the cable that its assemblies are made from; may be empty
 */
public record OrderDraft(
    String number,
    String title,
    @Nullable LocalDate dueOn,
    String cableLot,
    Specification specification,
    List<SetDraft> sets,
    List<String> poolSerials) {

  /** A set with its positions in order. */
  public record SetDraft(
      String name, @Nullable String masterSerial, List<PositionDraft> positions) {}

  /** A position and the serial number of the assembly made for it. */
  public record PositionDraft(
      String label, String serial, double offsetPhaseDeg, double offsetDelayPs) {}
}
