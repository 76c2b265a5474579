package org.equiphase.matching;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * A matched set out of a pool.
 *
 * @param serials the members in use, by serial number
 * @param spares the members kept as spares, by serial number: those at the outside of the set, each
 *     time the one without which the rest lies closest together
 * @param spreadDeg greatest difference in phase error between two members at each frequency, spares
 *     and cuts included
 * @param spreadDb the same for insertion loss; empty where no loss is limited
 * @param trimMm physical length to cut off, for each member that must be cut
 */
public record PoolSet(
    List<String> serials,
    List<String> spares,
    List<Double> spreadDeg,
    List<Double> spreadDb,
    Map<String, Double> trimMm) {

  public PoolSet {
    serials = List.copyOf(serials);
    spares = List.copyOf(spares);
    spreadDeg = List.copyOf(spreadDeg);
    spreadDb = List.copyOf(spreadDb);
    trimMm = Collections.unmodifiableMap(new TreeMap<>(trimMm));
  }
}
