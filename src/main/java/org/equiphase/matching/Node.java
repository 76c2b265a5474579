package org.equiphase.matching;

import java.util.Arrays;

/** A zone of centres and what each member can still be treated with there. */
final class Node {

  final Zone zone;

  /** Options of each member, the most welcome action first; none means replaced. */
  final Option[][] options;

  /** Members whose only option, or lack of one, holds all over the zone. */
  final boolean[] settled;

  Node(Zone zone, Option[][] options, boolean[] settled) {
    this.zone = zone;
    this.options = options;
    this.settled = settled;
  }

  Node copy() {
    return new Node(zone.copy(), options.clone(), settled.clone());
  }

  // One option is one object; equal records would be too many.
  @SuppressWarnings("ReferenceEquality")
  void remove(Option option) {
    options[option.member()] =
        Arrays.stream(options[option.member()])
            .filter(other -> other != option)
            .toArray(Option[]::new);
  }
}
