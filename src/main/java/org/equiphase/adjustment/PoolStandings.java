package org.equiphase.adjustment;

import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlanner.Placing;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.measurement.Reading;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** How assemblies stand wherever they are put, for whoever builds sets of them. */
@Component
public class PoolStandings {

  private static final SetPosition NO_OFFSET = new SetPosition(0, 0, "", 0, 0);

  private final SetPlanner planner;
  private final Catalog catalog;

  PoolStandings(SetPlanner planner, Catalog catalog) {
    this.planner = planner;
    this.catalog = catalog;
  }

  /**
   * One assembly.
   *
   * @param errorDeg insertion phase less nominal at each frequency, the bench's drift off and no
   *     offset counted; empty where it can't be used
   * @param lossDb insertion loss likewise; 0 where none was read and none is limited
   * @param allowanceMm how much may still be cut off
   * @param reason why it can't be used; null where it can
   */
  public record Standing(
      Assembly assembly,
      List<Double> errorDeg,
      List<Double> lossDb,
      double allowanceMm,
      @Nullable Sentence reason) {

    public Standing {
      errorDeg = List.copyOf(errorDeg);
      lossDb = List.copyOf(lossDb);
    }

    public boolean usable() {
      return reason == null;
    }
  }

  /**
   * Several of one order.
   *
   * @param limits what is accepted at each frequency, with the guard band of the least certain
   * @param velocityFactor of the cable, as the catalog gives it
   * @param lossDbPerM loss of the cable at each frequency
   */
  public record Standings(
      List<Standing> members,
      List<FrequencyLimit> limits,
      double velocityFactor,
      List<Double> lossDbPerM) {

    public Standings {
      members = List.copyOf(members);
      limits = List.copyOf(limits);
      lossDbPerM = List.copyOf(lossDbPerM);
    }
  }

  @Transactional(readOnly = true)
  public Standings of(WorkOrder order, List<Assembly> assemblies) {
    Specification specification = order.specification();
    CableType cable = catalog.cableType(specification.cableTypeId());
    Adjuster adjuster =
        new Adjuster(
            specification,
            cable,
            VelocityFactorEstimate.ofTolerance(
                cable.velocityFactor(), cable.velocityFactorTolerance()),
            Stretchers.of(specification, assemblies, catalog));
    Placing placing = planner.placing(order, assemblies, adjuster);
    List<MemberSituation> situations =
        assemblies.stream().map(a -> placing.at(NO_OFFSET, a)).toList();
    List<Usable> usable =
        situations.stream()
            .map(MemberSituation::usable)
            .filter(Objects::nonNull)
            .filter(u -> !u.awaitsRemeasurement())
            .toList();
    boolean oneBench = usable.stream().map(u -> u.reading().benchId()).distinct().count() == 1;
    List<ErrorUncertainty> uncertainties =
        usable.stream()
            .map(u -> ErrorUncertainty.of(specification.basis(), oneBench, false, u.budgets()))
            .toList();
    return new Standings(
        situations.stream().map(s -> standing(s, adjuster)).toList(),
        SetPlanner.limits(specification, uncertainties),
        cable.velocityFactor(),
        specification.frequencies().stream().map(f -> cable.lossDbPerM(f.frequencyHz())).toList());
  }

  private static Standing standing(MemberSituation situation, Adjuster adjuster) {
    Assembly assembly = situation.assembly();
    Usable usable = situation.usable();
    if (usable == null || usable.awaitsRemeasurement()) {
      Sentence reason = usable == null ? situation.reason() : Sentence.of("reason.adjustedSince");
      return new Standing(assembly, List.of(), List.of(), 0, reason);
    }
    SetProblem.Member member = adjuster.member(assembly, usable.errorDeg());
    return new Standing(
        assembly, usable.errorDeg(), losses(usable.reading()), member.trimAllowanceMm(), null);
  }

  /** Where no limit holds, a missing loss doesn't matter. */
  private static List<Double> losses(Reading reading) {
    return reading.spots().stream()
        .map(spot -> Objects.requireNonNullElse(spot.insertionLossDb(), 0.0))
        .toList();
  }
}
