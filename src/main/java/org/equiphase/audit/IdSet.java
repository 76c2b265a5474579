package org.equiphase.audit;

import java.util.BitSet;
import java.util.HashMap;
import java.util.Map;

/** A set of ids that takes little more than a bit for each where they lie close together. */
final class IdSet {

  private static final int BITS = 16;
  private static final long MASK = (1L << BITS) - 1;

  private final Map<Long, BitSet> parts = new HashMap<>();

  void add(long id) {
    parts.computeIfAbsent(id >> BITS, part -> new BitSet()).set((int) (id & MASK));
  }

  boolean contains(long id) {
    BitSet part = parts.get(id >> BITS);
    return part != null && part.get((int) (id & MASK));
  }

  long size() {
    return parts.values().stream().mapToLong(BitSet::cardinality).sum();
  }
}
