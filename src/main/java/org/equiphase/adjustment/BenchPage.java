package org.equiphase.adjustment;

import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.measurement.SweepFiles;
import org.equiphase.measurement.TypedReading;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.rf.Method;
import org.equiphase.web.Numbers;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Texts;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.util.UriComponentsBuilder;

/** The bench: scan a serial, log its reading, read the instruction, sign it off, next. */
@Controller
@RequestMapping("/bench")
class BenchPage {

  private static final String BENCH = "benchId";

  private final Adjustments adjustments;
  private final AssemblyHistory history;
  private final Catalog catalog;
  private final Readings readings;
  private final SweepFiles files;
  private final ReferenceChecks referenceChecks;
  private final WorkOrders workOrders;
  private final Problems problems;
  private final Clock clock;

  BenchPage(
      Adjustments adjustments,
      AssemblyHistory history,
      Catalog catalog,
      Readings readings,
      SweepFiles files,
      ReferenceChecks referenceChecks,
      WorkOrders workOrders,
      Problems problems,
      Clock clock) {
    this.adjustments = adjustments;
    this.history = history;
    this.catalog = catalog;
    this.readings = readings;
    this.files = files;
    this.referenceChecks = referenceChecks;
    this.workOrders = workOrders;
    this.problems = problems;
    this.clock = clock;
  }

  @GetMapping
  ModelAndView bench(
      @RequestParam(required = false) @Nullable String serial,
      @RequestParam(required = false) @Nullable Long benchId,
      HttpSession session) {
    if (benchId != null) {
      session.setAttribute(BENCH, benchId);
    }
    return page(serial, session, BenchForm.EMPTY, List.of(), HttpStatus.OK);
  }

  /** What was typed, kept when it is refused. */
  public record BenchForm(
      String temperatureC, List<String> phaseDeg, List<String> lossDb, List<String> vswr) {

    static final BenchForm EMPTY = new BenchForm("", List.of(), List.of(), List.of());

    /** From the request's own values: a decimal comma is no separator of two values. */
    static BenchForm of(MultiValueMap<String, String> typed) {
      String temperatureC = typed.getFirst("temperatureC");
      return new BenchForm(
          temperatureC == null ? "" : temperatureC,
          typed.getOrDefault("phaseDeg", List.of()),
          typed.getOrDefault("lossDb", List.of()),
          typed.getOrDefault("vswr", List.of()));
    }

    public String phase(int k) {
      return at(phaseDeg, k);
    }

    public String loss(int k) {
      return at(lossDb, k);
    }

    public String vswrAt(int k) {
      return at(vswr, k);
    }

    private static String at(List<String> values, int k) {
      return k < values.size() ? values.get(k) : "";
    }
  }

  @PostMapping("/readings")
  ModelAndView log(
      @RequestParam String serial,
      @RequestParam long benchId,
      @RequestParam MultiValueMap<String, String> typed,
      @RequestParam(required = false) @Nullable MultipartFile file,
      HttpSession session) {
    BenchForm form = BenchForm.of(typed);
    return answer(
        serial,
        session,
        form,
        () -> {
          Assembly assembly = workOrders.assemblyBySerial(serial);
          double temperature = Numbers.read("temperatureC", form.temperatureC());
          if (file != null && !file.isEmpty()) {
            String name = file.getOriginalFilename();
            files.record(serial, benchId, temperature, null, name == null ? "" : name, bytes(file));
          } else {
            readings.record(
                new TypedReading(serial, benchId, null, temperature, null, spots(assembly, form)));
          }
        });
  }

  @PostMapping("/instructions/{id}")
  ModelAndView signOff(
      @PathVariable long id,
      @RequestParam int version,
      @RequestParam String serial,
      @RequestParam(defaultValue = "") String doneTrimMm,
      @RequestParam(defaultValue = "") String doneSettingMm,
      @RequestParam(defaultValue = "") String note,
      HttpSession session) {
    return answer(
        serial,
        session,
        BenchForm.EMPTY,
        () ->
            adjustments.signOff(
                id,
                version,
                Numbers.readOptional("doneTrimMm", doneTrimMm),
                Numbers.readOptional("doneSettingMm", doneSettingMm),
                note));
  }

  @PostMapping("/readings/{id}/void")
  ModelAndView voidReading(
      @PathVariable long id,
      @RequestParam String serial,
      @RequestParam(defaultValue = "") String reason,
      HttpSession session) {
    return answer(serial, session, BenchForm.EMPTY, () -> readings.voidReading(id, reason));
  }

  @PostMapping("/reference-checks")
  ModelAndView referenceCheck(
      @RequestParam(defaultValue = "") String serial,
      @RequestParam long benchId,
      @RequestParam(defaultValue = "") String cableSerial,
      @RequestParam(defaultValue = "TRANSMISSION") Method method,
      @RequestParam(defaultValue = "") String frequencyMhz,
      @RequestParam(defaultValue = "") String phaseDeg,
      @RequestParam(defaultValue = "") String temperatureC,
      HttpSession session) {
    return answer(
        serial,
        session,
        BenchForm.EMPTY,
        () ->
            referenceChecks.record(
                benchId,
                cableSerial,
                method,
                Numbers.read("frequencyMhz", frequencyMhz) * 1e6,
                Numbers.read("phaseDeg", phaseDeg),
                Numbers.read("temperatureC", temperatureC),
                null));
  }

  private ModelAndView answer(String serial, HttpSession session, BenchForm form, Runnable write) {
    try {
      write.run();
    } catch (RuntimeException e) {
      Problem problem = problems.of(e);
      List<String> messages =
          problem.errors().isEmpty()
              ? List.of(Texts.say(problem.detail()))
              : problem.errors().stream()
                  .map(f -> label(f.field()) + ": " + Texts.say(f.message()))
                  .toList();
      return page(serial, session, form, messages, problem.httpStatus());
    }
    String url =
        UriComponentsBuilder.fromPath("/bench").queryParam("serial", serial).encode().toUriString();
    return new ModelAndView("redirect:" + url);
  }

  /** What a field is called on the page. */
  private static String label(String field) {
    return switch (field.replaceFirst("\\[.*", "")) {
      case "temperatureC" -> "Temperature";
      case "phaseDeg" -> "Phase";
      case "lossDb" -> "Loss";
      case "vswr" -> "VSWR";
      case "doneTrimMm" -> "Really cut";
      case "doneSettingMm" -> "Really set to";
      case "frequencyMhz" -> "Frequency";
      case "cableSerial" -> "Reference cable";
      case "reason" -> "Reason";
      case "file" -> "Touchstone file";
      default -> field;
    };
  }

  private ModelAndView page(
      @Nullable String serial,
      HttpSession session,
      BenchForm form,
      List<String> messages,
      HttpStatus status) {
    ModelAndView page = new ModelAndView("adjustment/bench");
    List<Bench> benches = catalog.benches();
    Bench bench = selected(benches, session);
    page.addObject("benches", benches);
    page.addObject("bench", bench);
    page.addObject("serial", serial == null ? "" : serial);
    page.addObject("form", form);
    List<String> said = new ArrayList<>(messages);
    page.setStatus(status);
    if (bench != null) {
      page.addObject("lastCheck", referenceChecks.latest(bench.id()).orElse(null));
      page.addObject("checkDue", referenceChecks.overdue(bench));
      page.addObject("overdue", overdue(bench));
    }
    if (serial != null && !serial.isBlank()) {
      var found = workOrders.findAssembly(serial.strip());
      if (found.isPresent()) {
        assembly(page, found.get());
      } else {
        said.add(0, "No assembly has the serial " + serial.strip() + ". Scan it again.");
        page.setStatus(HttpStatus.NOT_FOUND);
      }
    }
    page.addObject("messages", said);
    return page;
  }

  private List<String> overdue(Bench bench) {
    LocalDate today = LocalDate.now(clock);
    List<String> overdue = new ArrayList<>();
    if (bench.calibrationDue().isBefore(today)) {
      overdue.add(
          "The calibration of " + bench.name() + " was due " + bench.calibrationDue() + ".");
    }
    Instrument instrument = bench.instrument();
    if (instrument.calibrationDue().isBefore(today)) {
      overdue.add(
          "The calibration of "
              + instrument.name()
              + " was due "
              + instrument.calibrationDue()
              + ".");
    }
    return overdue;
  }

  private void assembly(ModelAndView page, Assembly assembly) {
    page.addObject("assembly", assembly);
    page.addObject("order", workOrders.order(assembly.workOrderId()));
    page.addObject("history", history.of(assembly));
    Long setId = assembly.setId();
    if (setId != null) {
      SetPlan plan = adjustments.plan(setId);
      SetPlan.MemberPlan member = plan.member(assembly.id());
      page.addObject("plan", plan);
      page.addObject("member", member);
      page.addObject("strip", StripView.of(plan, tightest(member)));
      page.addObject("next", next(plan, assembly));
      Long stretcherId = plan.order().specification().lineStretcherId();
      page.addObject("stretcher", stretcherId == null ? null : catalog.lineStretcher(stretcherId));
    }
  }

  /** The frequency at which the member is farthest out, as a share of what is accepted. */
  private static int tightest(SetPlan.MemberPlan member) {
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

  /** The next member that a technician can do something for, after this one and around. */
  private static @Nullable Assembly next(SetPlan plan, Assembly assembly) {
    List<SetPlan.MemberPlan> members = plan.members();
    int here = 0;
    for (int i = 0; i < members.size(); i++) {
      if (members.get(i).assembly().id() == assembly.id()) {
        here = i;
      }
    }
    for (int step = 1; step < members.size(); step++) {
      SetPlan.MemberPlan member = members.get((here + step) % members.size());
      switch (member.verdict()) {
        case UNREAD, ADJUST, MEASURE_AGAIN -> {
          return member.assembly();
        }
        default -> {}
      }
    }
    return null;
  }

  private static @Nullable Bench selected(List<Bench> benches, HttpSession session) {
    Object id = session.getAttribute(BENCH);
    return benches.stream()
        .filter(b -> id != null && id.equals(b.id()))
        .findFirst()
        .orElse(benches.isEmpty() ? null : benches.get(0));
  }

  private List<TypedSpot> spots(Assembly assembly, BenchForm form) {
    List<FrequencySpecification> frequencies =
        workOrders.order(assembly.workOrderId()).specification().frequencies();
    List<TypedSpot> spots = new ArrayList<>();
    for (int k = 0; k < frequencies.size(); k++) {
      spots.add(
          new TypedSpot(
              frequencies.get(k).frequencyHz(),
              Numbers.read("phaseDeg[" + k + "]", form.phase(k)),
              Numbers.readOptional("lossDb[" + k + "]", form.loss(k)),
              Numbers.readOptional("vswr[" + k + "]", form.vswrAt(k))));
    }
    return spots;
  }

  private static byte[] bytes(MultipartFile file) {
    try {
      return file.getBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
