package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.IntFunction;
import java.util.stream.IntStream;
import org.equiphase.matching.AmplitudeCheck.Agreement;
import org.equiphase.matching.AmplitudeCheck.LossLimit;
import org.equiphase.matching.AmplitudeCheck.Member;
import org.equiphase.matching.AmplitudeCheck.Outsider;
import org.jspecify.annotations.Nullable;

/**
 * Finds the largest group within the limits, frequency by frequency: the lowest loss of the group
 * is some member's, so every window that starts at a member is tried, fullest first, and a window
 * with no more members than the best group is left.
 */
final class AmplitudeSearch {

  private static final double SLACK_DB = 1e-9;

  private final List<LossLimit> frequencies;
  private final List<Member> members;
  private final int[] limited;
  private long workLeft;
  private boolean proven = true;
  private int[] best = {};

  AmplitudeSearch(List<LossLimit> frequencies, List<Member> members, long workLimit) {
    this.frequencies = frequencies;
    this.members = members;
    workLeft = workLimit;
    limited =
        IntStream.range(0, frequencies.size())
            .filter(k -> frequencies.get(k).spreadLimitDb() != null)
            .toArray();
  }

  Agreement agreement() {
    narrow(0, IntStream.range(0, members.size()).toArray());
    boolean[] in = new boolean[members.size()];
    for (int i : best) {
      in[i] = true;
    }
    if (!proven) {
      addWhatFits(in);
    }
    List<Double> spreads = new ArrayList<>();
    for (int k = 0; k < frequencies.size(); k++) {
      spreads.add(spreadDb(k, in, -1));
    }
    return new Agreement(
        chosen(in, true, i -> members.get(i).serial()),
        spreads,
        chosen(in, false, i -> outsider(i, in)),
        proven);
  }

  /** A stretch of members in order of loss. */
  private record Window(int from, int to, double spreadDb) {
    int size() {
      return to - from;
    }
  }

  private void narrow(int depth, int[] candidates) {
    if (candidates.length <= best.length) {
      return;
    }
    if (depth == limited.length) {
      best = candidates;
      return;
    }
    workLeft -= candidates.length;
    if (workLeft < 0 && best.length > 0) {
      proven = false;
      return;
    }
    int k = limited[depth];
    int[] sorted =
        IntStream.of(candidates)
            .boxed()
            .sorted(Comparator.comparingDouble((Integer i) -> lossDb(i, k)))
            .mapToInt(Integer::intValue)
            .toArray();
    for (Window window : windows(sorted, k)) {
      if (window.size() <= best.length) {
        return;
      }
      narrow(depth + 1, java.util.Arrays.copyOfRange(sorted, window.from, window.to));
    }
  }

  /** The windows that no other holds, fullest first, then tightest. */
  private List<Window> windows(int[] sorted, int k) {
    double limit = limitDb(k) + SLACK_DB;
    List<Window> windows = new ArrayList<>();
    int to = 0;
    for (int from = 0; from < sorted.length && to < sorted.length; from++) {
      int before = to;
      while (to < sorted.length && lossDb(sorted[to], k) - lossDb(sorted[from], k) <= limit) {
        to++;
      }
      if (to > before) {
        windows.add(new Window(from, to, lossDb(sorted[to - 1], k) - lossDb(sorted[from], k)));
      }
    }
    windows.sort(
        Comparator.comparingInt(Window::size)
            .reversed()
            .thenComparingDouble(Window::spreadDb)
            .thenComparingInt(Window::from));
    return windows;
  }

  private void addWhatFits(boolean[] in) {
    for (int i = 0; i < in.length; i++) {
      if (!in[i]) {
        in[i] = excess(i, in, limited[toBlame(i, in)]) <= SLACK_DB;
      }
    }
  }

  private Outsider outsider(int i, boolean[] in) {
    int k = limited[toBlame(i, in)];
    return new Outsider(
        members.get(i).serial(), frequencies.get(k).frequencyHz(), lossDb(i, k), excess(i, in, k));
  }

  /** Index among the limited frequencies of the one where a member is farthest outside. */
  private int toBlame(int i, boolean[] in) {
    int blamed = 0;
    double farthest = Double.NEGATIVE_INFINITY;
    for (int l = 0; l < limited.length; l++) {
      double limit = Math.max(limitDb(limited[l]), SLACK_DB);
      double outside = excess(i, in, limited[l]) / limit;
      if (outside > farthest) {
        farthest = outside;
        blamed = l;
      }
    }
    return blamed;
  }

  private double excess(int i, boolean[] in, int k) {
    return spreadDb(k, in, i) - limitDb(k);
  }

  private double spreadDb(int k, boolean[] in, int with) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < in.length; i++) {
      if (in[i] || i == with) {
        low = Math.min(low, lossDb(i, k));
        high = Math.max(high, lossDb(i, k));
      }
    }
    return high - low;
  }

  private double lossDb(int i, int k) {
    return members.get(i).lossDb().get(k);
  }

  private double limitDb(int k) {
    @Nullable Double limit = frequencies.get(k).spreadLimitDb();
    return limit == null ? Double.POSITIVE_INFINITY : limit;
  }

  private static <T> List<T> chosen(boolean[] in, boolean wanted, IntFunction<T> value) {
    List<T> chosen = new ArrayList<>();
    for (int i = 0; i < in.length; i++) {
      if (in[i] == wanted) {
        chosen.add(value.apply(i));
      }
    }
    return chosen;
  }
}
