package org.equiphase.building;

import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.equiphase.workorder.SetPosition;

/**
 * Sets proposed from an order's pool, as its planners have moved them since.
 *
 * @param standing false once it was accepted or given up
 * @param upperBound no choice gave more sets when it was proposed
 * @param proven whether the proposal reached that bound
 * @param places of those that take part
 */
public record Draft(
    long orderId,
    int version,
    boolean standing,
    Ask ask,
    int upperBound,
    boolean proven,
    String proposedBy,
    Instant proposedAt,
    List<Place> places) {

  public Draft {
    places = List.copyOf(places);
  }

  /**
   * Where an assembly is put.
   *
   * @param setNumber from 1; 0 for left over
   * @param ordinal its position in the set, from 0
   */
  public record Place(long assemblyId, int setNumber, int ordinal) {}

  /** The numbers of its sets, in order. */
  List<Integer> setNumbers() {
    return places.stream().map(Place::setNumber).filter(n -> n > 0).distinct().sorted().toList();
  }

  /** Who is in a set, in the order of the positions. */
  List<Long> members(int setNumber) {
    return places.stream()
        .filter(p -> p.setNumber() == setNumber)
        .sorted(Comparator.comparingInt(Place::ordinal).thenComparingLong(Place::assemblyId))
        .map(Place::assemblyId)
        .toList();
  }

  /** The number that a further set would get. */
  public int nextSet() {
    return setNumbers().stream().mapToInt(Integer::intValue).max().orElse(0) + 1;
  }

  Optional<Place> place(long assemblyId) {
    return places.stream().filter(p -> p.assemblyId() == assemblyId).findFirst();
  }

  List<SetPosition> positions() {
    return ask.positions();
  }
}
