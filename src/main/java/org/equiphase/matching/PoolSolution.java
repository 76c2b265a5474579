package org.equiphase.matching;

import java.util.List;

/**
 * The sets that a pool gives.
 *
 * @param sets disjoint sets, in the order of their least phase errors
 * @param unused serial numbers of the candidates in no set, sorted
 * @param upperBound a proven bound: no choice gives more sets
 * @param optimal whether the number of sets is proven to be the greatest possible, that is, equal
 *     to the bound
 */
public record PoolSolution(
    List<PoolSet> sets, List<String> unused, int upperBound, boolean optimal) {

  public PoolSolution {
    sets = List.copyOf(sets);
    unused = List.copyOf(unused);
  }
}
