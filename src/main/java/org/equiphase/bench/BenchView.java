package org.equiphase.bench;

import jakarta.servlet.http.HttpSession;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.AssemblyHistory;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.StripView;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.gauge.Studies;
import org.equiphase.measurement.BenchTemperatures;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceCheck;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.traveler.StepState;
import org.equiphase.traveler.Steps;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Reader;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.ScanCode;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** Gathers what the bench page shows. */
@Component
class BenchView {

  private static final String BENCH = "benchId";

  private final Adjustments adjustments;
  private final AssemblyHistory history;
  private final Catalog catalog;
  private final Readings readings;
  private final ReferenceChecks referenceChecks;
  private final BenchTemperatures temperatures;
  private final Visits visits;
  private final Pauses pauses;
  private final WorkOrders workOrders;
  private final Studies studies;
  private final Steps steps;
  private final Clock clock;

  BenchView(
      Adjustments adjustments,
      AssemblyHistory history,
      Catalog catalog,
      Readings readings,
      ReferenceChecks referenceChecks,
      BenchTemperatures temperatures,
      Visits visits,
      Pauses pauses,
      WorkOrders workOrders,
      Studies studies,
      Steps steps,
      Clock clock) {
    this.adjustments = adjustments;
    this.history = history;
    this.catalog = catalog;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
    this.temperatures = temperatures;
    this.visits = visits;
    this.pauses = pauses;
    this.workOrders = workOrders;
    this.studies = studies;
    this.steps = steps;
    this.clock = clock;
  }

  static void choose(HttpSession session, long benchId) {
    session.setAttribute(BENCH, benchId);
  }

  /** What is said of a step that was signed off right before. */
  void signed(ModelAndView page, String code) {
    if (!code.isBlank()) {
      try {
        page.addObject("signed", steps.signed(code).orElse(null));
      } catch (InvalidInputException | NotFoundException e) {
        page.addObject("signed", null);
      }
    }
  }

  /** The phases of a voided reading as they were shown, to be corrected and logged again. */
  BenchForm voided(String serial, long readingId) {
    Reading reading = readings.reading(readingId);
    boolean here =
        workOrders
            .findAssembly(serial.strip())
            .map(a -> a.id() == reading.assemblyId())
            .orElse(false);
    return !here || reading.voided() == null
        ? BenchForm.EMPTY
        : new BenchForm(
            Format.PLAIN.plain(reading.temperatureC()),
            reading.spots().stream().map(s -> Format.PLAIN.plain(s.measuredPhaseDeg())).toList(),
            List.of(),
            List.of());
  }

  /** The page as a technician comes to it, who now has the assembly before them. */
  ModelAndView visit(String serial, HttpSession session, BenchForm form) {
    return page(serial, session, form, List.of(), HttpStatus.OK, true);
  }

  /** The page as everyone reads it. */
  ModelAndView page(String serial, HttpSession session, BenchForm form) {
    return page(serial, session, form, List.of(), HttpStatus.OK, false);
  }

  /**
   * The page after something was refused.
   *
   * @param said what went wrong, sentences or text
   */
  ModelAndView refused(
      String serial, HttpSession session, BenchForm form, List<?> said, HttpStatus status) {
    return page(serial, session, form, said, status, false);
  }

  private ModelAndView page(
      String serial,
      HttpSession session,
      BenchForm form,
      List<?> said,
      HttpStatus status,
      boolean visit) {
    ModelAndView page = new ModelAndView("bench/bench");
    page.setStatus(status);
    List<Bench> benches = catalog.benches();
    Bench bench = selected(benches, session);
    page.addObject("benches", benches);
    page.addObject("bench", bench);
    page.addObject("serial", serial.strip());
    page.addObject("form", form);
    page.addObject("lengthUnit", Reader.lengthUnit());
    List<Object> alerts = new ArrayList<>(said);
    if (bench != null) {
      page.addObject(
          "check",
          Check.of(bench, referenceChecks.latest(bench.id()).orElse(null), clock.instant()));
      page.addObject("temperature", temperatures.holding(bench.id()).orElse(null));
      page.addObject("overdue", overdue(bench));
      page.addObject("gaugeStudies", studies.waiting(bench.id()));
      page.addObject("pauses", pauses.open(bench.id()));
    }
    if (!serial.isBlank()) {
      try {
        Assembly found = scanned(page, serial);
        page.addObject("serial", found.serial());
        assembly(page, found);
        if (visit && bench != null) {
          visits.enter(found.id(), bench.id());
        }
      } catch (Unfound e) {
        page.addObject("serial", "");
        alerts.remove(e.words);
        alerts.add(0, e.words);
        page.setStatus(e.status);
      }
    }
    page.addObject("said", alerts);
    return page;
  }

  /** What was scanned names no assembly to work on. */
  private static final class Unfound extends Exception {
    private final Sentence words;
    private final HttpStatus status;

    Unfound(Sentence words, HttpStatus status) {
      super(words.toString());
      this.words = words;
      this.status = status;
    }
  }

  /** The assembly of a serial, of a sheet, or of a step on a sheet; old sheets are refused. */
  private Assembly scanned(ModelAndView page, String text) throws Unfound {
    try {
      ScanCode code = ScanCode.read("code", text);
      Assembly found =
          workOrders
              .findAssembly(code.serial())
              .orElseThrow(
                  () ->
                      new Unfound(
                          Sentence.of("bench.unknownSerial", code.serial()), HttpStatus.NOT_FOUND));
      code.refuseOld(workOrders.order(found.workOrderId()));
      Long number = code.stepNumber();
      if (number != null) {
        page.addObject("stepCode", code.toString());
        page.addObject(
            "step", steps.of(found.serial()).step(number).filter(StepState::isToSign).orElse(null));
      }
      return found;
    } catch (InvalidInputException e) {
      throw new Unfound(e.problems().get(0).message(), HttpStatus.NOT_FOUND);
    } catch (ConflictException e) {
      throw new Unfound(e.words(), HttpStatus.CONFLICT);
    }
  }

  /**
   * The bench's reference-cable check.
   *
   * @param last null where there was none
   * @param minutesLeft until the next is due, rounded up; 0 where it is overdue
   */
  public record Check(@Nullable ReferenceCheck last, boolean overdue, long minutesLeft) {

    /** Soon enough to be done before the next cable is connected. */
    private static final int SOON_MIN = 15;

    static Check of(Bench bench, @Nullable ReferenceCheck last, Instant now) {
      Instant due = last == null ? Instant.MIN : bench.nextReferenceCheck(last.takenAt());
      return now.isAfter(due)
          ? new Check(last, true, 0)
          : new Check(last, false, Duration.between(now, due).plusSeconds(59).toMinutes());
    }

    public boolean isSoon() {
      return !overdue && minutesLeft < SOON_MIN;
    }
  }

  private List<Sentence> overdue(Bench bench) {
    LocalDate today = LocalDate.now(clock);
    List<Sentence> overdue = new ArrayList<>();
    if (bench.calibrationDue().isBefore(today)) {
      overdue.add(
          Sentence.of("bench.calibrationOverdue", bench.name(), "" + bench.calibrationDue()));
    }
    if (bench.instrument().calibrationDue().isBefore(today)) {
      overdue.add(
          Sentence.of(
              "bench.calibrationOverdue",
              bench.instrument().name(),
              "" + bench.instrument().calibrationDue()));
    }
    return overdue;
  }

  private void assembly(ModelAndView page, Assembly assembly) {
    page.addObject("assembly", assembly);
    page.addObject("order", workOrders.order(assembly.workOrderId()));
    AssemblyHistory.History done = history.of(assembly);
    page.addObject("history", done);
    page.addObject(
        "latest",
        done.readings().stream().filter(r -> r.voided() == null).findFirst().orElse(null));
    page.addObject(
        "voided",
        done.readings().stream()
            .findFirst()
            .filter(r -> r.voided() != null && r.source() == Reading.Source.TYPED)
            .orElse(null));
    Long stretcherId = assembly.terms().lineStretcherId();
    if (stretcherId != null && assembly.state() == AssemblyState.AWAITING_READING) {
      page.addObject("toFit", catalog.lineStretcher(stretcherId));
    }
    page.addObject("other", visits.ofAnother(assembly.id()).orElse(null));
    Long setId = assembly.setId();
    if (setId != null) {
      SetPlan plan = adjustments.plan(setId);
      MemberPlan member = plan.member(assembly.id());
      Guide guide = Guide.of(plan, assembly);
      page.addObject("plan", plan);
      page.addObject("member", member);
      page.addObject("glance", Glance.of(member));
      page.addObject("tightest", tightest(member));
      page.addObject("strip", StripView.of(plan, tightest(member)));
      page.addObject("guide", guide);
      page.addObject("next", guide.next(assembly));
    }
  }

  /** The frequency at which the member is farthest out, as a share of what is accepted. */
  private static int tightest(MemberPlan member) {
    int tightest = 0;
    double most = -1;
    for (int k = 0; k < member.spots().size(); k++) {
      SetPlan.SpotPlan spot = member.spots().get(k);
      double share = Math.abs(spot.errorDeg()) / Math.max(spot.acceptanceDeg(), 1e-9);
      if (share > most) {
        most = share;
        tightest = k;
      }
    }
    return tightest;
  }

  private static @Nullable Bench selected(List<Bench> benches, HttpSession session) {
    Object id = session.getAttribute(BENCH);
    return benches.stream()
        .filter(b -> id != null && id.equals(b.id()))
        .findFirst()
        .orElse(benches.isEmpty() ? null : benches.get(0));
  }
}
