package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Least total size of the stretches over a zone of centres.
 *
 * <p>Minimising Σ|y_i| under bounds on differences is the dual of a minimum-cost circulation in
 * which each y_i exchanges at most one unit with the ground (R. K. Ahuja, T. L. Magnanti, J. B.
 * Orlin, "Network Flows", 1993, chapter 9; from memory). One arc after the other is opened; where
 * that makes a negative cycle, one unit is sent round it. The arcs left over describe every optimal
 * centre, and the distances to the ground the lowest of them.
 */
final class LeastStretch {

  private final int nodes;
  private final double epsilonMm;
  private final Work work;
  private final List<Arc> arcs = new ArrayList<>();

  private LeastStretch(int nodes, double epsilonMm, Work work) {
    this.nodes = nodes;
    this.epsilonMm = epsilonMm;
    this.work = work;
  }

  private static final class Arc {
    final int from;
    final int to;
    final double lengthMm;
    final int capacity;
    int flow;

    Arc(int from, int to, double lengthMm, int capacity) {
      this.from = from;
      this.to = to;
      this.lengthMm = lengthMm;
      this.capacity = capacity;
    }
  }

  /**
   * The lowest optimal centre, or any of the zone where the work runs out; the zone must lie within
   * every option's own.
   */
  static double[] solve(Zone zone, List<Option> options, double epsilonMm, Work work) {
    List<Option> stretches =
        options.stream().filter(option -> option.action() == Action.STRETCH).toList();
    LeastStretch flow = new LeastStretch(zone.size + stretches.size(), epsilonMm, work);
    for (int a = 0; a < zone.size; a++) {
      for (int b = 0; b < zone.size; b++) {
        if (a != b) {
          flow.bound(a, b, zone.bound(a, b));
        }
      }
    }
    for (int j = 0; j < stretches.size(); j++) {
      for (int c = 0; c < zone.size; c++) {
        flow.bound(c, zone.size + j, stretches.get(j).above()[c]);
        flow.bound(zone.size + j, c, stretches.get(j).below()[c]);
      }
    }
    for (int j = 0; j < stretches.size() && !work.exhausted(); j++) {
      flow.open(new Arc(0, zone.size + j, 0, 1));
      flow.open(new Arc(zone.size + j, 0, 0, 1));
    }
    return Arrays.copyOf(flow.lowest(), zone.size);
  }

  /** Asks for x_a − x_b ≤ limit. */
  private void bound(int a, int b, double limit) {
    if (limit < Double.POSITIVE_INFINITY) {
      arcs.add(new Arc(b, a, limit, Integer.MAX_VALUE));
    }
  }

  private void open(Arc arc) {
    int[] via = new int[nodes];
    double[] distance = distances(arc.to, true, via);
    if (distance[arc.from] + arc.lengthMm < -epsilonMm && isPath(arc.to, arc.from, via)) {
      for (int node = arc.from; node != arc.to; ) {
        Arc step = arcs.get(via[node] >> 1);
        boolean back = (via[node] & 1) == 1;
        step.flow += back ? -1 : 1;
        node = back ? step.to : step.from;
      }
      arc.flow = 1;
    }
    arcs.add(arc);
  }

  /** Guards against a cycle that is negative by rounding alone. */
  private boolean isPath(int start, int end, int[] via) {
    int node = end;
    for (int steps = 0; node != start && steps < nodes; steps++) {
      Arc step = arcs.get(via[node] >> 1);
      node = (via[node] & 1) == 1 ? step.to : step.from;
    }
    return node == start;
  }

  private double[] lowest() {
    double[] lengths = distances(0, false, new int[nodes]);
    Arrays.setAll(lengths, c -> -lengths[c]);
    return lengths;
  }

  /**
   * Shortest distances over arcs with room left (Bellman and Ford): from the node, or to it. {@code
   * via} receives the arc by which each node is reached, twice its index, plus one if run back.
   */
  private double[] distances(int node, boolean from, int[] via) {
    double[] distance = new double[nodes];
    Arrays.fill(distance, Double.POSITIVE_INFINITY);
    distance[node] = 0;
    boolean changed = true;
    for (int round = 0; changed && round < nodes; round++) {
      changed = false;
      work.spend(arcs.size());
      for (int j = 0; j < arcs.size(); j++) {
        Arc arc = arcs.get(j);
        int tail = from ? arc.from : arc.to;
        int head = from ? arc.to : arc.from;
        if (arc.flow < arc.capacity
            && distance[tail] + arc.lengthMm < distance[head] - epsilonMm / 16) {
          distance[head] = distance[tail] + arc.lengthMm;
          via[head] = 2 * j;
          changed = true;
        }
        if (arc.flow > 0 && distance[head] - arc.lengthMm < distance[tail] - epsilonMm / 16) {
          distance[tail] = distance[head] - arc.lengthMm;
          via[tail] = 2 * j + 1;
          changed = true;
        }
      }
    }
    return distance;
  }
}
