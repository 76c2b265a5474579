package org.equiphase.matching;

import java.util.List;

/**
 * What to do with a set.
 *
 * @param outcome what the set needs
 * @param centerDeg the common centre at each frequency, on the scale of the given phase errors;
 *     from −180 (exclusive) to 180 in {@link Turns#MODULO_360}
 * @param replaced number of members that can't be brought in
 * @param adjusted number of members to trim or stretch
 * @param totalTrimMm length moved in all: every trim plus the size of every stretch
 * @param proven whether no better answer exists; false where the work limit ended the search
 * @param assemblies one plan per member, in the order of the problem
 */
public record SetSolution(
    Outcome outcome,
    List<Double> centerDeg,
    int replaced,
    int adjusted,
    double totalTrimMm,
    boolean proven,
    List<MemberPlan> assemblies) {

  public SetSolution {
    centerDeg = List.copyOf(centerDeg);
    assemblies = List.copyOf(assemblies);
  }
}
