package org.equiphase.building;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.building.SetCheck.Extent;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** An order's pool and its draft, checked with the readings of the moment. */
@Component
class BuildingView {

  /** Beyond this many, no reasons are sought for those left over. */
  private static final int MOST_REASONS = 100;

  private final Drafts drafts;
  private final WorkOrders workOrders;

  BuildingView(Drafts drafts, WorkOrders workOrders) {
    this.drafts = drafts;
    this.workOrders = workOrders;
  }

  /**
   * A member of a set.
   *
   * @param position label of its position; null beyond the last
   * @param standing null where it has left the pool since
   * @param aboutDeg where it lies about the middle of the set, per frequency
   * @param trimMm cut with which it joins; null for none
   * @param worst whether the rest would be closest together without it
   */
  record MemberRow(
      @Nullable String position,
      String serial,
      @Nullable Standing standing,
      List<Double> aboutDeg,
      @Nullable Double trimMm,
      boolean worst) {}

  /**
   * A set of the draft.
   *
   * @param check null where a member can't be used any more
   * @param name that it would get
   */
  record SetRow(
      int number, String name, List<MemberRow> members, int size, @Nullable SetCheck check) {

    /** Whether it could be accepted. */
    public boolean good() {
      return check != null && check.inside() && members.size() == size;
    }

    public List<PictureRow> picture() {
      return check == null ? List.of() : PictureRow.of(check, members);
    }
  }

  /** Members of a set on one line, per frequency; the window reaches from 50 to 210. */
  record PictureRow(double frequencyHz, int y, List<Dot> dots) {

    record Dot(double x, boolean worst, boolean out) {}

    static List<PictureRow> of(SetCheck check, List<MemberRow> members) {
      List<PictureRow> rows = new ArrayList<>();
      for (int k = 0; k < check.phases().size(); k++) {
        Extent extent = check.phases().get(k);
        List<Dot> dots = new ArrayList<>();
        for (MemberRow member : members) {
          double share = member.aboutDeg().get(k) / (extent.limit() * check.halves());
          dots.add(
              new Dot(
                  Math.max(8, Math.min(252, 130 + 80 * share)),
                  member.worst(),
                  Math.abs(share) > 1 + 1e-9));
        }
        rows.add(new PictureRow(extent.frequencyHz(), 12 + 20 * k, dots));
      }
      return rows;
    }
  }

  /**
   * One that is in no set of the draft.
   *
   * @param why null where it does not take part
   */
  record LeftRow(Standing standing, @Nullable Sentence why) {}

  /**
   * All that the page shows.
   *
   * @param version of the draft, to be sent back with a change; 0 before the first
   * @param draft null where none stands
   * @param made sets that the order has
   * @param problem why no draft can be checked; null where it can
   */
  record Shown(
      WorkOrder order,
      List<Standing> usable,
      List<Standing> unusable,
      int version,
      @Nullable Draft draft,
      List<SetRow> sets,
      List<LeftRow> left,
      List<MatchedSet> made,
      @Nullable Sentence problem) {

    /** Whether there is something to propose sets of. */
    public boolean enough() {
      return usable.size() >= 2;
    }

    /** Sets of the order whose members could exchange their positions. */
    public List<MatchedSet> staggered() {
      return made.stream().filter(Arrangements::worthwhile).toList();
    }

    /** Whether an assembly takes part in the draft. */
    public boolean takes(Standing member) {
      return draft != null && draft.place(member.assembly().id()).isPresent();
    }

    public long good() {
      return sets.stream().filter(SetRow::good).count();
    }
  }

  @Transactional(readOnly = true)
  Shown of(WorkOrder order) {
    Standings all = drafts.pool(order);
    Draft last = drafts.draft(order.id()).orElse(null);
    Draft draft = last == null || !last.standing() ? null : last;
    List<SetRow> sets = new ArrayList<>();
    List<LeftRow> left = new ArrayList<>();
    Sentence problem = null;
    if (draft != null) {
      try {
        Pool pool = new Pool(order.specification(), all, draft.ask());
        sets.addAll(sets(order, draft, pool, all));
        left.addAll(left(draft, pool, all, sets));
      } catch (ConflictException e) {
        problem = e.words();
      }
    }
    return new Shown(
        order,
        all.members().stream().filter(Standing::usable).toList(),
        all.members().stream().filter(m -> !m.usable()).toList(),
        last == null ? 0 : last.version(),
        draft,
        sets,
        left,
        workOrders.setsOf(order.id()),
        problem);
  }

  private List<SetRow> sets(WorkOrder order, Draft draft, Pool pool, Standings all) {
    Map<Long, Standing> byId = Pool.byId(all.members());
    List<String> names = names(order, draft.setNumbers().size());
    List<SetRow> rows = new ArrayList<>();
    for (int number : draft.setNumbers()) {
      List<Long> ids = draft.members(number);
      List<Standing> members =
          ids.stream().map(byId::get).filter(Objects::nonNull).filter(Standing::usable).toList();
      SetCheck check = members.size() == ids.size() ? pool.check(members, draft.positions()) : null;
      List<MemberRow> memberRows = new ArrayList<>();
      for (int i = 0; i < ids.size(); i++) {
        memberRows.add(member(draft, i, ids.get(i), byId.get(ids.get(i)), check));
      }
      rows.add(
          new SetRow(number, names.get(rows.size()), memberRows, draft.positions().size(), check));
    }
    return rows;
  }

  private MemberRow member(
      Draft draft, int ordinal, long id, @Nullable Standing standing, @Nullable SetCheck check) {
    String serial =
        standing == null ? workOrders.assembly(id).serial() : standing.assembly().serial();
    return new MemberRow(
        ordinal < draft.positions().size() ? draft.positions().get(ordinal).label() : null,
        serial,
        standing,
        check == null ? List.of() : check.aboutDeg().get(ordinal),
        check == null ? null : check.trimMm().get(serial),
        check != null && serial.equals(check.worst()));
  }

  private static List<LeftRow> left(Draft draft, Pool pool, Standings all, List<SetRow> sets) {
    Set<Long> inSets =
        draft.places().stream()
            .filter(p -> p.setNumber() > 0)
            .map(Draft.Place::assemblyId)
            .collect(Collectors.toSet());
    List<Standing> taking =
        all.members().stream()
            .filter(Standing::usable)
            .filter(m -> draft.place(m.assembly().id()).isPresent())
            .toList();
    List<LeftRow> rows = new ArrayList<>();
    for (Standing member : all.members()) {
      if (!member.usable() || inSets.contains(member.assembly().id())) {
        continue;
      }
      boolean takesPart = draft.place(member.assembly().id()).isPresent();
      rows.add(
          new LeftRow(
              member,
              takesPart && rows.size() < MOST_REASONS
                  ? why(draft, pool, member, taking, sets)
                  : null));
    }
    return rows;
  }

  private static Sentence why(
      Draft draft, Pool pool, Standing member, List<Standing> taking, List<SetRow> sets) {
    if (pool.fitting(List.of(member)).isEmpty()) {
      return Sentence.of("building.why.outside");
    }
    if (draft.ask().staggered()) {
      return Sentence.of("building.why.noPlace");
    }
    long companions =
        taking.stream()
            .filter(other -> other.assembly().id() != member.assembly().id())
            .filter(other -> pool.agree(member, other))
            .count();
    if (companions < pool.setSize() - 1) {
      return Sentence.of("building.why.few", (int) companions, pool.setSize() - 1);
    }
    List<String> places =
        sets.stream()
            .filter(set -> set.check() != null && fits(draft, pool, member, set))
            .map(set -> "" + set.number())
            .toList();
    return places.isEmpty()
        ? Sentence.of("building.why.together")
        : Sentence.of("building.why.couldReplace", String.join(", ", places));
  }

  /** Whether it could take the place of the worst member of a set. */
  private static boolean fits(Draft draft, Pool pool, Standing member, SetRow set) {
    List<Standing> instead = new ArrayList<>();
    for (MemberRow each : set.members()) {
      instead.add(each.worst() ? member : Objects.requireNonNull(each.standing()));
    }
    return instead.contains(member) && pool.check(instead, draft.positions()).inside();
  }

  /** Names that no set of the order has yet: its plain numbers. */
  private List<String> names(WorkOrder order, int count) {
    Set<String> taken =
        new HashSet<>(workOrders.setsOf(order.id()).stream().map(MatchedSet::name).toList());
    List<String> names = new ArrayList<>();
    for (int n = 1; names.size() < count; n++) {
      if (!taken.contains("" + n)) {
        names.add("" + n);
      }
    }
    return names;
  }
}
