package org.equiphase.review;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.adjustment.Swaps;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.matching.Turns;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Figure;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What could be decided about an assembly, each with its consequences computed. */
@Component
class CaseOptions {

  private static final int SWAPS = 5;
  private static final int NAMED = 6;

  /** Where the usual limit on ending too short forbids a cut, this risk is looked at instead. */
  private static final double TAKEN_RISK = 0.1;

  private final Adjustments adjustments;
  private final Swaps swaps;
  private final WhatIf whatIf;
  private final Catalog catalog;

  CaseOptions(Adjustments adjustments, Swaps swaps, WhatIf whatIf, Catalog catalog) {
    this.adjustments = adjustments;
    this.swaps = swaps;
    this.whatIf = whatIf;
    this.catalog = catalog;
  }

  @Transactional(readOnly = true)
  List<CaseOption> of(CaseFacts facts) {
    Assembly assembly = facts.assembly();
    List<CaseOption> options = new ArrayList<>();
    SetPlan plan = facts.plan();
    MemberPlan member = facts.member();
    if (plan == null || member == null) {
      options.add(CaseOption.yes(Kind.REMEASURE, Sentence.of("case.pool")));
      options.add(CaseOption.yes(Kind.SCRAP, Sentence.of("case.scrapPool")));
      return options;
    }
    if (assembly.isGone()) {
      options.add(CaseOption.yes(Kind.REPLACE, Sentence.of("case.replace")));
      return options;
    }
    options.add(remeasure(facts, member));
    options.add(trim(plan, member));
    options.addAll(stretchers(plan, member));
    options.addAll(swaps(assembly, plan));
    options.add(recentre(plan));
    options.add(
        member.reading() == null
            ? CaseOption.no(Kind.CONCESSION, Sentence.of("case.noReading"))
            : CaseOption.yes(Kind.CONCESSION, Sentence.of("case.concession")));
    options.add(CaseOption.yes(Kind.REPLACE, Sentence.of("case.replace")));
    options.add(CaseOption.yes(Kind.SCRAP, Sentence.of("case.scrap")));
    return options;
  }

  /**
   * A second reading, as uncertain as the first and independent of it, lies about the first with √2
   * times its standard uncertainty (JCGM 100, 5.1.2, for a difference of two).
   */
  private static CaseOption remeasure(CaseFacts facts, MemberPlan member) {
    SpotPlan worst = facts.worst();
    if (worst == null) {
      return CaseOption.yes(Kind.REMEASURE, Sentence.of("case.remeasureFirst"));
    }
    double u = Math.max(worst.standardUncertaintyDeg(), 1e-6);
    NormalDistribution second = NormalDistribution.of(worst.errorDeg(), Math.sqrt(2) * u);
    double inside =
        second.cumulativeProbability(worst.acceptanceDeg())
            - second.cumulativeProbability(-worst.acceptanceDeg());
    return CaseOption.yes(
        Kind.REMEASURE,
        Sentence.of(
            "case.remeasure",
            Figure.probability(inside),
            Figure.of(u / Math.sqrt(2), 2),
            Figure.of(u, 2)));
  }

  private CaseOption trim(SetPlan plan, MemberPlan member) {
    if (member.spots().isEmpty()) {
      return CaseOption.no(Kind.TRIM_AGAIN, Sentence.of("case.noErrors"));
    }
    if (member.verdict() == Verdict.ADJUST) {
      return CaseOption.no(Kind.TRIM_AGAIN, Sentence.of("case.instructedAlready"));
    }
    Specification specification = plan.order().specification();
    Assembly assembly = member.assembly().unheld();
    double far = specification.nominalLengthMm();
    CaseOption usual = trim(plan, assembly, far, null);
    return usual.possible() ? usual : trim(plan, assembly, far, TAKEN_RISK);
  }

  private CaseOption trim(SetPlan plan, Assembly assembly, double extraMm, @Nullable Double risk) {
    SetPlan granted = whatIf.withTerms(plan, assembly, assembly.terms().withTrim(extraMm, risk));
    MemberPlan member = granted.member(assembly.id());
    Instruction cut = member.proposed();
    if (cut == null || cut.action() != Instruction.Action.TRIM || cut.chance() == null) {
      return CaseOption.no(Kind.TRIM_AGAIN, Sentence.of("case.noCut", member.reason()));
    }
    double neededMm =
        Math.max(
            0,
            assembly.trimmedMm() + cut.trimMm() - plan.order().specification().trimAllowanceMm());
    Map<String, String> terms =
        risk == null
            ? Map.of("extraTrimMm", plain(neededMm))
            : Map.of("extraTrimMm", plain(neededMm), "tooShortPercent", plain(100 * risk));
    return new CaseOption(
        Kind.TRIM_AGAIN,
        true,
        Sentence.of(
            "case.trim",
            Figure.plain(cut.trimMm()),
            Figure.probability(cut.chance().probabilityIn()),
            Figure.probability(cut.chance().probabilityTooShort()),
            Figure.plain(round(neededMm))),
        List.of(Sentence.of("case.cutStays")),
        terms);
  }

  private List<CaseOption> stretchers(SetPlan plan, MemberPlan member) {
    if (member.spots().isEmpty()) {
      return List.of(CaseOption.no(Kind.FIT_STRETCHER, Sentence.of("case.noErrors")));
    }
    if (member.assembly().stretcherSettingMm() != null) {
      return List.of(CaseOption.no(Kind.FIT_STRETCHER, Sentence.of("case.fittedAlready")));
    }
    boolean modulo = plan.order().specification().turns() == Turns.MODULO_360;
    List<CaseOption> options = new ArrayList<>();
    for (LineStretcher stretcher : catalog.lineStretchers()) {
      StretcherFits.Fit fit = StretcherFits.best(stretcher.toRf(), member, modulo);
      double worstDeg = fit.leftDeg().stream().mapToDouble(Math::abs).max().orElse(0);
      options.add(
          new CaseOption(
              Kind.FIT_STRETCHER,
              fit.fits(),
              fit.fits()
                  ? Sentence.of(
                      "case.stretcher",
                      stretcher.name(),
                      Figure.plain(round(fit.settingMm())),
                      Figure.of(worstDeg, 2))
                  : Sentence.of(
                      "case.stretcherOff",
                      stretcher.name(),
                      Figure.of(fit.addedElectricalMm(), 1),
                      Figure.of(worstDeg, 1)),
              List.of(),
              Map.of(
                  "lineStretcherId",
                  "" + stretcher.id(),
                  "stretcherStartMm",
                  plain(fit.settingMm()))));
    }
    return options.isEmpty()
        ? List.of(CaseOption.no(Kind.FIT_STRETCHER, Sentence.of("case.noStretcher")))
        : options;
  }

  private List<CaseOption> swaps(Assembly assembly, SetPlan plan) {
    if (assembly.serial().equals(plan.set().masterSerial())) {
      return List.of(CaseOption.no(Kind.SWAP, Sentence.of("case.masterStays")));
    }
    Swaps.Found found = swaps.best(assembly, SWAPS);
    if (found.swaps().isEmpty()) {
      return List.of(CaseOption.no(Kind.SWAP, Sentence.of("case.nobodyToSwap")));
    }
    Map<Long, SetPlan> others = new HashMap<>();
    return found.swaps().stream().map(swap -> swap(plan, swap, found, others)).toList();
  }

  /**
   * @param others the other sets as they are planned now, filled on the way
   */
  private CaseOption swap(
      SetPlan before, Swaps.Swap swap, Swaps.Found found, Map<Long, SetPlan> others) {
    List<Sentence> details = new ArrayList<>();
    details.add(Sentence.of("case.swapHere", counts(before), counts(swap.here())));
    MatchedSet otherSet = swap.otherSet();
    SetPlan there = swap.there();
    boolean noWorse = true;
    if (otherSet != null && there != null) {
      SetPlan now = others.computeIfAbsent(otherSet.id(), adjustments::plan);
      details.add(Sentence.of("case.swapThere", otherSet.name(), counts(now), counts(there)));
      noWorse = out(there) <= out(now);
    }
    if (!found.proven()) {
      details.add(Sentence.of("case.swapNotProven", found.candidates()));
    }
    boolean better = noWorse && out(swap.here()) < out(before);
    return new CaseOption(
        Kind.SWAP,
        better,
        otherSet == null
            ? Sentence.of("case.swapPool", swap.other().serial())
            : Sentence.of("case.swapSet", swap.other().serial(), otherSet.name()),
        details,
        Map.of("otherSerial", swap.other().serial()));
  }

  private CaseOption recentre(SetPlan plan) {
    SetPlan anew;
    try {
      anew = whatIf.recentred(plan.set());
    } catch (ConflictException e) {
      return CaseOption.no(Kind.RECENTRE, e.words());
    }
    List<Sentence> details = new ArrayList<>();
    List<Sentence> cuts =
        anew.members().stream()
            .filter(m -> m.proposed() != null && m.proposed().trimMm() > 0)
            .map(
                m ->
                    Sentence.of(
                        "case.cutOf",
                        m.assembly().serial(),
                        Figure.plain(Objects.requireNonNull(m.proposed()).trimMm())))
            .toList();
    cuts.stream().limit(NAMED).forEach(details::add);
    if (cuts.size() > NAMED) {
      details.add(Sentence.of("case.andMore", cuts.size() - NAMED));
    }
    if (!cuts.isEmpty()) {
      details.add(Sentence.of("case.cutStays"));
    }
    return new CaseOption(
        Kind.RECENTRE,
        out(anew) < out(plan),
        Sentence.of("case.recentre", counts(plan), counts(anew)),
        details,
        Map.of());
  }

  private static long out(SetPlan plan) {
    return plan.count(Verdict.OUT) + plan.count(Verdict.SCRAPPED);
  }

  private static Sentence counts(SetPlan plan) {
    return Sentence.of(
        "case.counts",
        plan.count(Verdict.IN_TOLERANCE) + plan.count(Verdict.CONCEDED),
        plan.count(Verdict.ADJUST) + plan.count(Verdict.MEASURE_AGAIN),
        out(plan) + plan.count(Verdict.HELD));
  }

  private static double round(double mm) {
    return Math.round(mm * 1e3) / 1e3;
  }

  private static String plain(double value) {
    return Format.PLAIN.plain(value);
  }
}
