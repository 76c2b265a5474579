package org.equiphase.board;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.board.Board.Line;
import org.equiphase.board.Board.Part;
import org.equiphase.board.Board.Promise;
import org.equiphase.board.Board.Stage;
import org.equiphase.board.CutsLeft.Work;
import org.equiphase.process.CutHistory;
import org.equiphase.process.CutHistory.Lot;
import org.equiphase.process.CutHistory.Taken;
import org.equiphase.review.Finding.Kind;
import org.equiphase.review.Findings;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.OrderStandings;
import org.equiphase.workorder.OrderStandings.Count;
import org.equiphase.workorder.OrderStandings.OpenOrder;
import org.equiphase.workorder.OrderStandings.SetCount;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Reads the board: as many queries for fifty orders as for one. */
@Service
class Boards {

  static final int PAGE_SIZE = 50;

  /** A promise so near is in danger while something blocks it (common practice, no source). */
  static final int SOON_DAYS = 7;

  private static final double BAR = 240;

  private final OrderStandings standings;
  private final Findings findings;
  private final CutHistory history;
  private final Clock clock;

  Boards(OrderStandings standings, Findings findings, CutHistory history, Clock clock) {
    this.standings = standings;
    this.findings = findings;
    this.history = history;
    this.clock = clock;
  }

  LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), clock.getZone());
  }

  @Transactional(readOnly = true)
  Board board(String search, int page) {
    List<OpenOrder> found = standings.open(search.strip(), page * PAGE_SIZE, PAGE_SIZE + 1);
    boolean more = found.size() > PAGE_SIZE;
    List<OpenOrder> orders = more ? found.subList(0, PAGE_SIZE) : found;
    List<Long> ids = orders.stream().map(OpenOrder::id).toList();
    Map<Long, List<Count>> counts =
        standings.counts(ids).stream().collect(Collectors.groupingBy(Count::orderId));
    Map<Long, SetCount> sets = standings.sets(ids);
    Map<Long, Map<Kind, Long>> kinds = findings.countsByOrder(ids);
    Forecast forecast = forecast(orders, counts);
    LocalDate today = today();
    List<Line> lines = new ArrayList<>();
    for (OpenOrder order : orders) {
      List<Count> own = counts.getOrDefault(order.id(), List.of());
      Map<Stage, Integer> stages = stages(own);
      Map<Kind, Long> about = kinds.getOrDefault(order.id(), Map.of());
      lines.add(
          new Line(
              order,
              promise(order.dueOn(), today, stages, about),
              stages.values().stream().mapToInt(Integer::intValue).sum(),
              parts(stages),
              sets.getOrDefault(order.id(), new SetCount(0, 0, 0)),
              about,
              order.trimAllowanceMm() > 0,
              order.trimAllowanceMm() > 0 ? forecast.of(order, own) : null));
    }
    return new Board(today, lines, standings.openCount(null), page, more);
  }

  private static Map<Stage, Integer> stages(List<Count> counts) {
    Map<Stage, Integer> stages = new EnumMap<>(Stage.class);
    for (Count count : counts) {
      Stage stage = stage(count);
      if (stage != null) {
        stages.merge(stage, count.assemblies(), Integer::sum);
      }
    }
    return stages;
  }

  private static @Nullable Stage stage(Count count) {
    return switch (count.state()) {
      case AWAITING_READING -> Stage.AWAITING_READING;
      case MEASURED -> Stage.MEASURED;
      case INSTRUCTED -> Stage.TO_ADJUST;
      case ADJUSTED -> Stage.MEASURE_AGAIN;
      case ON_HOLD -> Stage.ON_HOLD;
      case IN_TOLERANCE, CONCEDED -> Stage.IN_TOLERANCE;
      case MATCHED -> Stage.MATCHED;
      case RELEASED -> Stage.RELEASED;
      // A scrapped one blocks its position until another takes it.
      case SCRAPPED -> count.placed() ? Stage.ON_HOLD : null;
      case REPLACED -> null;
    };
  }

  private static List<Part> parts(Map<Stage, Integer> stages) {
    int all = Math.max(1, stages.values().stream().mapToInt(Integer::intValue).sum());
    List<Part> parts = new ArrayList<>();
    double x = 0;
    for (Map.Entry<Stage, Integer> stage : stages.entrySet()) {
      double width = BAR * stage.getValue() / all;
      parts.add(new Part(stage.getKey(), stage.getValue(), x, width));
      x += width;
    }
    return parts;
  }

  static Promise promise(
      @Nullable LocalDate dueOn,
      LocalDate today,
      Map<Stage, Integer> stages,
      Map<Kind, Long> findings) {
    if (dueOn == null) {
      return Promise.NONE;
    }
    if (dueOn.isBefore(today)) {
      return Promise.OVERDUE;
    }
    boolean soon = !dueOn.isAfter(today.plusDays(SOON_DAYS));
    boolean behind =
        stages.containsKey(Stage.AWAITING_READING)
            || findings.keySet().stream().anyMatch(Kind::blocks);
    return soon && behind ? Promise.IN_DANGER : Promise.IN_TIME;
  }

  /** What earlier assemblies took, of the lots and cable types of one page. */
  private record Forecast(Map<Lot, Taken> lots, Map<Long, Taken> cableTypes) {

    /** Empty-handed where any lot has no history. */
    @Nullable CutsLeft of(OpenOrder order, List<Count> counts) {
      Map<Lot, Work> byLot = new HashMap<>();
      for (Count count : counts) {
        byLot.merge(lot(order, count), work(order, count), Work::plus);
      }
      CutsLeft sum = null;
      for (Map.Entry<Lot, Work> each : byLot.entrySet()) {
        if (each.getValue().equals(Work.NONE)) {
          continue;
        }
        Taken ofLot = lots.get(each.getKey());
        boolean lotWillDo = willDo(ofLot);
        Taken taken = lotWillDo ? ofLot : cableTypes.get(order.cableTypeId());
        if (taken == null || !willDo(taken)) {
          return null;
        }
        CutsLeft left = CutsLeft.of(each.getValue(), taken, lotWillDo);
        sum = sum == null ? left : sum.plus(left);
      }
      return sum == null ? new CutsLeft(0, 0, 0, true) : sum;
    }
  }

  /** Cable types are asked for only where a lot that has work left has too little history. */
  private Forecast forecast(List<OpenOrder> orders, Map<Long, List<Count>> counts) {
    Set<Lot> lots = new HashSet<>();
    for (OpenOrder order : orders) {
      if (order.trimAllowanceMm() > 0) {
        counts.getOrDefault(order.id(), List.of()).stream()
            .filter(c -> !work(order, c).equals(Work.NONE))
            .forEach(c -> lots.add(lot(order, c)));
      }
    }
    Map<Lot, Taken> ofLots = history.ofLots(lots);
    Set<Long> cableTypes =
        lots.stream()
            .filter(lot -> !willDo(ofLots.get(lot)))
            .map(Lot::cableTypeId)
            .collect(Collectors.toSet());
    return new Forecast(ofLots, history.ofCableTypes(cableTypes));
  }

  private static boolean willDo(@Nullable Taken taken) {
    return taken != null && taken.decided() >= CutsLeft.LEAST_DECIDED;
  }

  /** An assembly without a lot of its own goes by its order, as the process facts do. */
  private static Lot lot(OpenOrder order, Count count) {
    return new Lot(
        order.cableTypeId(),
        count.cableLot().isEmpty() ? "order " + order.number() : count.cableLot());
  }

  /** Without a position an assembly has no target that it could be cut to. */
  private static Work work(OpenOrder order, Count count) {
    int n = count.assemblies();
    if (!count.placed()) {
      return Work.NONE;
    }
    boolean unread =
        count.state() == AssemblyState.AWAITING_READING
            || count.state() == AssemblyState.MEASURED
            // With a stretcher an instruction may be a setting.
            || (count.state() == AssemblyState.INSTRUCTED && order.stretcher());
    if (unread) {
      return new Work(n, 0, 0);
    }
    return switch (count.state()) {
      case INSTRUCTED -> new Work(0, n, 0);
      case ADJUSTED -> new Work(0, 0, n);
      default -> Work.NONE;
    };
  }
}
