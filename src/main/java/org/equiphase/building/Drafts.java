package org.equiphase.building;

import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.PoolStandings;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.building.Draft.Place;
import org.equiphase.matching.Assignment;
import org.equiphase.matching.Basis;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Proposes sets of an order's pool, has them moved, and makes them sets of the order. A draft is
 * checked with the readings of the moment, whenever it is looked at.
 */
@Service
class Drafts {

  private final DraftTables tables;
  private final PoolStandings standings;
  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final AuditLog audit;
  private final Clock clock;

  Drafts(
      DraftTables tables,
      PoolStandings standings,
      WorkOrders workOrders,
      Adjustments adjustments,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.standings = standings;
    this.workOrders = workOrders;
    this.adjustments = adjustments;
    this.audit = audit;
    this.clock = clock;
  }

  /** By which sum members are put to positions. */
  enum Fit {
    LEAST_SUM,
    LEAST_WORST
  }

  /** The order's draft, also one that has ended; empty before the first. */
  @Transactional(readOnly = true)
  Optional<Draft> draft(long orderId) {
    return tables.draft(orderId);
  }

  /** The assemblies that lie in the order's pool, by serial number, gone ones left out. */
  @Transactional(readOnly = true)
  Standings pool(WorkOrder order) {
    return standings.of(
        order,
        workOrders.assembliesOf(order.id()).stream()
            .filter(a -> a.positionId() == null && a.isMeasurable())
            .toList());
  }

  /**
   * Proposes sets and keeps them as the order's draft.
   *
   * @param version of the draft that was seen; 0 for none
   * @param without serials that take no part
   */
  @Transactional
  Draft propose(WorkOrder order, int version, Ask ask, List<String> without) {
    ask.check();
    Standings all = pool(order);
    Set<String> left = new HashSet<>(without);
    List<Standing> taking =
        all.members().stream()
            .filter(Standing::usable)
            .filter(m -> !left.contains(m.assembly().serial()))
            .toList();
    if (taking.size() < ask.setSize()) {
      throw new ConflictException(Sentence.of("building.tooFew", taking.size(), ask.setSize()));
    }
    Pool pool = new Pool(order.specification(), all, ask);
    Proposal proposal = Proposal.of(pool, ask, taking);
    List<Place> places = new ArrayList<>();
    Set<Long> placed = new HashSet<>();
    for (int s = 0; s < proposal.sets().size(); s++) {
      List<Standing> set = proposal.sets().get(s);
      for (int i = 0; i < set.size(); i++) {
        places.add(new Place(set.get(i).assembly().id(), s + 1, i));
        placed.add(set.get(i).assembly().id());
      }
    }
    taking.stream()
        .filter(m -> !placed.contains(m.assembly().id()))
        .forEach(m -> places.add(new Place(m.assembly().id(), 0, 0)));
    Draft draft =
        new Draft(
            order.id(),
            version,
            true,
            ask,
            proposal.upperBound(),
            proposal.proven(),
            Actor.name(),
            clock.instant().truncatedTo(ChronoUnit.MICROS),
            places);
    require(tables.replace(draft, version), order);
    return standing(order);
  }

  /** Puts assemblies into a set; 0 for none, one above the last for a new one. */
  @Transactional
  Draft move(WorkOrder order, int version, List<String> serials, int setNumber) {
    Draft draft = standing(order);
    int last = draft.nextSet() - 1;
    if (serials.isEmpty()) {
      throw InvalidInputException.of("serials", Sentence.of("building.chooseSome"));
    }
    if (setNumber < 0 || setNumber > last + 1) {
      throw InvalidInputException.of(
          "toSet", Sentence.of("building.noSuchSet", setNumber, last + 1));
    }
    List<Place> places = new ArrayList<>(draft.places());
    for (String serial : serials) {
      Assembly assembly = inPool(order, serial);
      places.removeIf(p -> p.assemblyId() == assembly.id());
      int next =
          places.stream()
                  .filter(p -> p.setNumber() == setNumber)
                  .mapToInt(Place::ordinal)
                  .max()
                  .orElse(-1)
              + 1;
      places.add(new Place(assembly.id(), setNumber, setNumber == 0 ? 0 : next));
    }
    require(tables.move(order.id(), version, closedUp(places)), order);
    return standing(order);
  }

  /** Has two assemblies take each other's place. */
  @Transactional
  Draft exchange(WorkOrder order, int version, List<String> serials) {
    Draft draft = standing(order);
    if (serials.size() != 2) {
      throw InvalidInputException.of("serials", Sentence.of("building.chooseTwo", serials.size()));
    }
    long first = inPool(order, serials.get(0)).id();
    long second = inPool(order, serials.get(1)).id();
    Place here = draft.place(first).orElse(new Place(first, 0, 0));
    Place there = draft.place(second).orElse(new Place(second, 0, 0));
    List<Place> places = new ArrayList<>(draft.places());
    places.removeIf(p -> p.assemblyId() == first || p.assemblyId() == second);
    places.add(new Place(first, there.setNumber(), there.ordinal()));
    places.add(new Place(second, here.setNumber(), here.ordinal()));
    require(tables.move(order.id(), version, closedUp(places)), order);
    return standing(order);
  }

  /** Puts the members of each complete set to the positions that they fit best. */
  @Transactional
  Draft assign(WorkOrder order, int version, Fit fit) {
    Draft draft = standing(order);
    Standings all = pool(order);
    Pool pool = new Pool(order.specification(), all, draft.ask());
    Map<Long, Standing> byId = Pool.byId(all.members());
    List<Place> places = new ArrayList<>(draft.places());
    for (int number : draft.setNumbers()) {
      List<Standing> members =
          draft.members(number).stream()
              .map(byId::get)
              .filter(m -> m != null && m.usable())
              .toList();
      if (members.size() == draft.positions().size()
          && draft.members(number).size() == members.size()) {
        int[] at = best(pool.costs().of(members, draft.positions()), fit);
        places.removeIf(p -> p.setNumber() == number);
        for (int position = 0; position < at.length; position++) {
          places.add(new Place(members.get(at[position]).assembly().id(), number, position));
        }
      }
    }
    require(tables.move(order.id(), version, places), order);
    return standing(order);
  }

  static int[] best(double[][] cost, Fit fit) {
    return fit == Fit.LEAST_SUM ? Assignment.leastSum(cost) : Assignment.leastWorst(cost);
  }

  /**
   * Makes the sets of a draft sets of the order and plans them, all or nothing.
   *
   * @param names by the draft's set numbers, in their order
   */
  @Transactional
  List<MatchedSet> accept(WorkOrder order, int version, List<String> names) {
    tables.lock(order.id());
    Draft draft = standing(order);
    require(draft.version() == version, order);
    List<Integer> numbers = draft.setNumbers();
    if (numbers.isEmpty()) {
      throw new ConflictException(Sentence.of("building.nothingToAccept"));
    }
    if (names.size() != numbers.size()) {
      throw InvalidInputException.of(
          "names", Sentence.of("building.namesMissing", numbers.size(), names.size()));
    }
    Standings all = pool(order);
    Pool pool = new Pool(order.specification(), all, draft.ask());
    Map<Long, Standing> byId = Pool.byId(all.members());
    List<SetDraft> sets = new ArrayList<>();
    for (int i = 0; i < numbers.size(); i++) {
      List<Standing> members = members(order, draft, numbers.get(i), byId);
      refuseApart(pool, draft, numbers.get(i), members);
      String master = order.specification().basis() == Basis.MASTER ? pool.middle(members) : null;
      sets.add(new SetDraft(names.get(i).strip(), master, positions(draft, members)));
    }
    List<MatchedSet> made = workOrders.addSets(order, sets);
    // Last, so that a refusal is shown with the draft that it is about.
    require(tables.end(order.id(), version), order);
    made.forEach(set -> adjustments.planAgain(set.id()));
    audit.record(
        "SETS_ACCEPTED",
        "work order",
        order.number(),
        Map.of(
            "sets",
            sets.stream().map(SetDraft::name).toList(),
            "rule",
            draft.ask().rule().name(),
            "upperBound",
            draft.upperBound()));
    return made.stream().map(set -> workOrders.set(set.id())).toList();
  }

  /** Gives a draft up. */
  @Transactional
  void discard(WorkOrder order, int version) {
    standing(order);
    require(tables.end(order.id(), version), order);
  }

  private List<Standing> members(
      WorkOrder order, Draft draft, int number, Map<Long, Standing> byId) {
    List<Standing> members = new ArrayList<>();
    for (long id : draft.members(number)) {
      Standing member = byId.get(id);
      if (member == null) {
        throw new ConflictException(
            Sentence.of(
                "building.memberTaken", workOrders.assembly(id).serial(), number, order.number()));
      }
      if (member.reason() != null) {
        throw new ConflictException(
            Sentence.of(
                "building.memberUnusable", member.assembly().serial(), number, member.reason()));
      }
      members.add(member);
    }
    return members;
  }

  private static void refuseApart(Pool pool, Draft draft, int number, List<Standing> members) {
    if (members.size() != draft.positions().size()) {
      throw new ConflictException(
          Sentence.of("building.wrongSize", number, members.size(), draft.positions().size()));
    }
    if (!pool.check(members, draft.positions()).inside()) {
      throw new ConflictException(Sentence.of("building.apart", number));
    }
  }

  private static List<PositionDraft> positions(Draft draft, List<Standing> members) {
    List<PositionDraft> positions = new ArrayList<>();
    for (int i = 0; i < members.size(); i++) {
      SetPosition position = draft.positions().get(i);
      positions.add(
          new PositionDraft(
              position.label(),
              members.get(i).assembly().serial(),
              position.offsetPhaseDeg(),
              position.offsetDelayPs()));
    }
    return positions;
  }

  /** The same with the positions of each set counted from 0 without gaps. */
  private static List<Place> closedUp(List<Place> places) {
    List<Place> closed = new ArrayList<>();
    Map<Integer, List<Place>> bySet =
        places.stream().collect(Collectors.groupingBy(Place::setNumber));
    bySet.forEach(
        (set, members) -> {
          List<Place> sorted =
              members.stream()
                  .sorted(
                      Comparator.comparingInt(Place::ordinal).thenComparingLong(Place::assemblyId))
                  .toList();
          for (int i = 0; i < sorted.size(); i++) {
            closed.add(new Place(sorted.get(i).assemblyId(), set, set == 0 ? 0 : i));
          }
        });
    return closed;
  }

  private Assembly inPool(WorkOrder order, String serial) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    if (assembly.workOrderId() != order.id() || assembly.positionId() != null) {
      throw new ConflictException(Sentence.of("order.notInPool", serial, order.number()));
    }
    return assembly;
  }

  private Draft standing(WorkOrder order) {
    return tables
        .draft(order.id())
        .filter(Draft::standing)
        .orElseThrow(() -> new ConflictException(Sentence.of("building.noDraft", order.number())));
  }

  private static void require(boolean updated, WorkOrder order) {
    if (!updated) {
      throw new ConflictException(Sentence.of("building.changedMeanwhile", order.number()));
    }
  }
}
