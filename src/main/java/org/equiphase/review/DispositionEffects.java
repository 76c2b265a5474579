package org.equiphase.review;

import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Objects;
import java.util.TreeSet;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.measurement.Readings;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.Terms;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.ReviewTerms;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What decisions do to assemblies and sets. Runs in the decision's transaction. */
@Component
class DispositionEffects {

  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final WhatIf whatIf;
  private final Readings readings;
  private final Clock clock;

  DispositionEffects(
      WorkOrders workOrders,
      Adjustments adjustments,
      WhatIf whatIf,
      Readings readings,
      Clock clock) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
    this.whatIf = whatIf;
    this.readings = readings;
    this.clock = clock;
  }

  /** Locks the sets that a decision touches, always in the same order. */
  void lock(Assembly assembly, Terms terms) {
    TreeSet<Long> sets = new TreeSet<>();
    add(sets, assembly.setId());
    if (terms.otherSerial() != null) {
      add(sets, workOrders.assemblyBySerial(terms.otherSerial()).setId());
    }
    sets.forEach(workOrders::lockSet);
  }

  private static void add(TreeSet<Long> sets, @Nullable Long setId) {
    if (setId != null) {
      sets.add(setId);
    }
  }

  /** The numbers that a decision is made on; refuses where they forbid it. */
  DecisionNumbers numbers(Assembly assembly, Kind kind, @Nullable Long readingId) {
    if (assembly.setId() == null) {
      return DecisionNumbers.ofPool(
          workOrders.order(assembly.workOrderId()).revision(),
          assembly,
          readings.latest(assembly.id()).orElse(null));
    }
    SetPlan plan = whatIf.unheld(assembly);
    MemberPlan asItIs = whatIf.conceded(plan, assembly, readingId);
    if (kind == Kind.CONCESSION && asItIs.verdict() != Verdict.CONCEDED) {
      throw new ConflictException(
          Sentence.of("disposition.noConcession", assembly.serial(), asItIs.reason()));
    }
    return DecisionNumbers.of(
        plan,
        plan.member(assembly.id()),
        asItIs,
        kind == Kind.RECENTRE ? whatIf.recentred(plan.set()).centerDeg() : List.of());
  }

  /** Keeps an assembly from being worked on until the second signature. */
  void await(Assembly assembly, Disposition disposition) {
    workOrders.hold(
        assembly,
        Sentence.of("disposition.awaitsSecond", disposition.id(), disposition.kind().words())
            .toString());
    planAgain(assembly.setId());
  }

  /** The set no longer waits for the second signature. */
  void decline(Assembly assembly) {
    planAgain(assembly.setId());
  }

  void apply(Disposition disposition) {
    Assembly assembly = workOrders.assembly(disposition.assemblyId());
    Terms terms = disposition.terms();
    switch (disposition.kind()) {
      case REMEASURE -> setTerms(assembly, remeasured(assembly.terms()));
      case TRIM_AGAIN ->
          setTerms(
              assembly,
              assembly
                  .terms()
                  .withTrim(
                      Objects.requireNonNullElse(terms.extraTrimMm(), 0.0), terms.tooShortLimit())
                  .withConcededReading(null));
      case FIT_STRETCHER -> fit(assembly, terms);
      case SWAP -> swap(assembly, Objects.requireNonNull(terms.otherSerial()));
      case RECENTRE ->
          workOrders.moveCenter(set(disposition), disposition.observed().newCenterDeg());
      case CONCESSION ->
          setTerms(assembly, assembly.terms().withConcededReading(disposition.readingId()));
      case REPLACE -> {
        workOrders.replace(assembly, Objects.requireNonNull(terms.newSerial()), disposition.text());
        adjustments.leftSet(assembly.id());
      }
      case SCRAP -> {
        workOrders.scrap(assembly, disposition.text());
        if (assembly.setId() == null) {
          adjustments.leftSet(assembly.id());
        }
      }
    }
    endHold(workOrders.assembly(assembly.id()));
    planAgain(assembly.setId());
  }

  private ReviewTerms remeasured(ReviewTerms terms) {
    Instant now = clock.instant().truncatedTo(ChronoUnit.MICROS);
    return terms.withRemeasureFrom(now);
  }

  private void setTerms(Assembly assembly, ReviewTerms terms) {
    workOrders.setTerms(assembly, terms, assembly.stretcherSettingMm());
  }

  private void fit(Assembly assembly, Terms terms) {
    workOrders.setTerms(
        assembly,
        remeasured(assembly.terms())
            .withLineStretcher(Objects.requireNonNull(terms.lineStretcherId())),
        terms.stretcherStartMm());
  }

  private void swap(Assembly assembly, String otherSerial) {
    Assembly other = workOrders.assemblyBySerial(otherSerial);
    if (other.heldBy() != null) {
      throw new ConflictException(Sentence.of("disposition.otherHeld", otherSerial));
    }
    workOrders.swap(assembly, other);
    if (other.setId() == null) {
      adjustments.leftSet(assembly.id());
    } else {
      planAgain(other.setId());
    }
  }

  private MatchedSet set(Disposition disposition) {
    return workOrders.set(Objects.requireNonNull(disposition.setId()));
  }

  private void endHold(Assembly assembly) {
    if (assembly.heldBy() != null && !assembly.isGone()) {
      workOrders.move(assembly, AssemblyState.MEASURED, "");
    }
  }

  private void planAgain(@Nullable Long setId) {
    if (setId != null) {
      adjustments.planAgain(setId);
    }
  }
}
