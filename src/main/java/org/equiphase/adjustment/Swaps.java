package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlanner.Ground;
import org.equiphase.adjustment.SetPlanner.Placing;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SwapSearch;
import org.equiphase.matching.SwapSearch.Candidate;
import org.equiphase.matching.SwapSearch.Elsewhere;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Finds the best assemblies of the same order to change places with a member; stores nothing. */
@Component
public class Swaps {

  private static final int MOST_TRIED = 400;
  private static final int MOST_POOLED = 300;
  private static final int MOST_SETS = 12;

  private final SetPlanner planner;
  private final WorkOrders workOrders;

  Swaps(SetPlanner planner, WorkOrders workOrders) {
    this.planner = planner;
    this.workOrders = workOrders;
  }

  /**
   * One swap with its consequences.
   *
   * @param otherSet the set that the other assembly comes from; null for the pool
   * @param here the set as it would be planned after the swap
   * @param there the other set likewise; null for the pool
   */
  public record Swap(
      Assembly other, @Nullable MatchedSet otherSet, SetPlan here, @Nullable SetPlan there) {}

  /**
   * The best swaps, the best first.
   *
   * @param candidates how many assemblies were looked at
   * @param proven whether there are no better ones among them
   */
  public record Found(List<Swap> swaps, int candidates, boolean proven) {
    public Found {
      swaps = List.copyOf(swaps);
    }
  }

  /** The best swaps of a member of a set. */
  @Transactional(readOnly = true)
  public Found best(Assembly member, int most) {
    MatchedSet set = workOrders.set(Objects.requireNonNull(member.setId()));
    Ground ground = planner.ground(set);
    SetPosition place = position(set, member);
    List<Usable> staying =
        ground.open().stream().filter(u -> u.assembly().id() != member.id()).toList();
    if (staying.isEmpty() || !waitsForOthers(ground, member).isEmpty()) {
      return new Found(List.of(), 0, true);
    }
    Map<String, Assembly> others = new LinkedHashMap<>();
    List<Candidate> candidates = new ArrayList<>();
    pooled(ground, place, others, candidates);
    for (MatchedSet other : otherSets(set)) {
      members(ground, place, member, planner.ground(other), others, candidates);
    }
    if (candidates.isEmpty()) {
      return new Found(List.of(), 0, true);
    }
    SetProblem frame = ground.problem(staying);
    SwapSearch.Answer answer =
        SwapSearch.best(frame, frame.assemblies(), candidates, most, MOST_TRIED);
    return new Found(
        answer.best().stream()
            .map(found -> swap(set, member, Objects.requireNonNull(others.get(found.serial()))))
            .toList(),
        candidates.size(),
        answer.proven());
  }

  private static List<String> waitsForOthers(Ground ground, Assembly member) {
    return ground.waitingFor().stream().filter(s -> !s.equals(member.serial())).toList();
  }

  private List<MatchedSet> otherSets(MatchedSet set) {
    return workOrders.setsOf(set.workOrderId()).stream()
        .filter(s -> s.id() != set.id() && s.releasedAt() == null)
        .limit(MOST_SETS)
        .toList();
  }

  private void pooled(
      Ground ground, SetPosition place, Map<String, Assembly> others, List<Candidate> candidates) {
    List<Assembly> pool =
        workOrders.assembliesOf(ground.order().id()).stream()
            .filter(a -> a.setId() == null && a.state() == AssemblyState.MEASURED)
            .limit(MOST_POOLED)
            .toList();
    Placing placing = planner.placing(ground.order(), pool, ground.adjuster());
    for (Assembly assembly : pool) {
      standing(ground, placing, place, assembly)
          .ifPresent(
              here -> {
                others.put(assembly.serial(), assembly);
                candidates.add(new Candidate(here, null));
              });
    }
  }

  private void members(
      Ground ground,
      SetPosition place,
      Assembly leaving,
      Ground other,
      Map<String, Assembly> others,
      List<Candidate> candidates) {
    if (!other.waitingFor().isEmpty()) {
      return;
    }
    List<Usable> open = other.open();
    Map<Long, SetPosition> places = new HashMap<>();
    other.situations().forEach(s -> places.put(s.assembly().id(), s.position()));
    Placing here =
        planner.placing(
            ground.order(), open.stream().map(Usable::assembly).toList(), ground.adjuster());
    Placing there = planner.placing(other.order(), List.of(leaving), other.adjuster());
    SetProblem frame = open.isEmpty() ? null : other.problem(open);
    for (int i = 0; frame != null && i < open.size(); i++) {
      Assembly assembly = open.get(i).assembly();
      if (assembly.serial().equals(other.set().masterSerial())) {
        continue;
      }
      Optional<SetProblem.Member> comes = standing(ground, here, place, assembly);
      Optional<SetProblem.Member> goes =
          standing(other, there, Objects.requireNonNull(places.get(assembly.id())), leaving);
      if (comes.isPresent() && goes.isPresent()) {
        List<SetProblem.Member> staying = new ArrayList<>(frame.assemblies());
        SetProblem.Member now = staying.remove(i);
        others.put(assembly.serial(), assembly);
        candidates.add(new Candidate(comes.get(), new Elsewhere(frame, staying, now, goes.get())));
      }
    }
  }

  /** An assembly as it would stand at a place of a set; empty where its reading can't be used. */
  private static Optional<SetProblem.Member> standing(
      Ground ground, Placing placing, SetPosition place, Assembly assembly) {
    Usable usable = placing.at(place, assembly.unheld()).usable();
    if (usable == null || usable.awaitsRemeasurement()) {
      return Optional.empty();
    }
    return Optional.of(ground.problem(List.of(usable)).assemblies().get(0));
  }

  private Swap swap(MatchedSet set, Assembly member, Assembly other) {
    Assembly comes = at(other, member.setId(), member.positionId());
    SetPlan here = planner.planAs(set, exchanged(set, member, comes));
    Long otherSetId = other.setId();
    if (otherSetId == null) {
      return new Swap(other, null, here, null);
    }
    MatchedSet otherSet = workOrders.set(otherSetId);
    Assembly goes = at(member, otherSetId, other.positionId());
    return new Swap(
        other, otherSet, here, planner.planAs(otherSet, exchanged(otherSet, other, goes)));
  }

  private List<Assembly> exchanged(MatchedSet set, Assembly leaves, Assembly comes) {
    return workOrders.members(set.id()).stream()
        .map(m -> m.id() == leaves.id() ? comes : m)
        .toList();
  }

  private static Assembly at(Assembly assembly, @Nullable Long setId, @Nullable Long positionId) {
    return assembly.unheld().placed(setId, positionId);
  }

  private static SetPosition position(MatchedSet set, Assembly member) {
    return set.positions().stream()
        .filter(p -> Objects.equals(p.id(), member.positionId()))
        .findFirst()
        .orElseThrow();
  }
}
