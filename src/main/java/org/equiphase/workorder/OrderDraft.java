package org.equiphase.workorder;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Objects;
import org.equiphase.web.Checks;
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
      String name, @Nullable String masterSerial, List<PositionDraft> positions) {

    public SetDraft {
      positions = List.copyOf(Objects.requireNonNullElse(positions, List.of()));
    }
  }

  /** A position and the serial number of the assembly made for it. */
  public record PositionDraft(
      String label, String serial, double offsetPhaseDeg, double offsetDelayPs) {

    public PositionDraft {
      label = Objects.requireNonNullElse(label, "");
      serial = Objects.requireNonNullElse(serial, "");
    }

    /** Whether it asks for another offset than a position has. */
    boolean movesOffset(SetPosition position) {
      return offsetPhaseDeg != position.offsetPhaseDeg()
          || offsetDelayPs != position.offsetDelayPs();
    }
  }

  /** The same with labels and serial numbers that count written out. */
  OrderDraft writtenOut() {
    Checks checks = new Checks();
    List<SetDraft> wholeSets = new ArrayList<>();
    for (int i = 0; i < sets.size(); i++) {
      SetDraft set = sets.get(i);
      List<PositionDraft> positions = new ArrayList<>();
      for (int p = 0; p < set.positions().size(); p++) {
        String at = "sets[" + i + "].positions[" + p + "].";
        PositionDraft position = set.positions().get(p);
        List<PositionDraft> all = checks.part(() -> SerialPattern.positions(at, position));
        positions.addAll(all == null ? List.of() : all);
      }
      wholeSets.add(new SetDraft(set.name(), set.masterSerial(), positions));
    }
    List<String> pool = new ArrayList<>();
    for (int i = 0; i < poolSerials.size(); i++) {
      String field = "poolSerials[" + i + "]";
      String serial = poolSerials.get(i);
      List<String> all = checks.part(() -> SerialPattern.namesOf(field, serial));
      pool.addAll(all == null ? List.of() : all);
    }
    checks.done();
    return with(wholeSets, pool);
  }

  /** The same with blank serial numbers of positions filled in from one pattern. */
  OrderDraft withSerials(String field, String pattern) {
    int blank =
        sets.stream()
            .mapToInt(s -> (int) s.positions().stream().filter(p -> p.serial().isBlank()).count())
            .sum();
    Iterator<String> serials = SerialPattern.read(field, pattern).names(field, blank).iterator();
    List<SetDraft> filled =
        sets.stream()
            .map(
                s ->
                    new SetDraft(
                        s.name(),
                        s.masterSerial(),
                        s.positions().stream().map(p -> filled(p, serials)).toList()))
            .toList();
    return with(filled, poolSerials);
  }

  private static PositionDraft filled(PositionDraft position, Iterator<String> serials) {
    return position.serial().isBlank()
        ? new PositionDraft(
            position.label(),
            Objects.requireNonNull(serials.next()),
            position.offsetPhaseDeg(),
            position.offsetDelayPs())
        : position;
  }

  private OrderDraft with(List<SetDraft> otherSets, List<String> otherPool) {
    return new OrderDraft(number, title, dueOn, cableLot, specification, otherSets, otherPool);
  }
}
