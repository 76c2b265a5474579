package org.equiphase.bench;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.equiphase.measurement.BenchFiles;
import org.equiphase.measurement.BenchTemperatures;
import org.equiphase.measurement.Captures;
import org.equiphase.measurement.FileOutcome;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.rf.Method;
import org.equiphase.traveler.Steps;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.Numbers;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
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

  /** What a field is called on the page, by its name in the form. */
  private static final Map<String, String> LABELS =
      Map.of(
          "temperatureC", "bench.temperature",
          "phaseDeg", "bench.phase",
          "lossDb", "bench.loss",
          "vswr", "bench.vswr",
          "doneTrimMm", "bench.reallyCut",
          "doneSettingMm", "bench.reallySet",
          "frequencyMhz", "bench.frequency",
          "cableSerial", "bench.referenceCable",
          "reason", "bench.reason",
          "file", "bench.file");

  private final BenchView view;
  private final BenchWork work;
  private final BenchFiles files;
  private final Captures captures;
  private final BenchTemperatures temperatures;
  private final ReferenceChecks referenceChecks;
  private final Pauses pauses;
  private final Steps steps;
  private final Problems problems;

  BenchPage(
      BenchView view,
      BenchWork work,
      BenchFiles files,
      Captures captures,
      BenchTemperatures temperatures,
      ReferenceChecks referenceChecks,
      Pauses pauses,
      Steps steps,
      Problems problems) {
    this.view = view;
    this.work = work;
    this.files = files;
    this.captures = captures;
    this.temperatures = temperatures;
    this.referenceChecks = referenceChecks;
    this.pauses = pauses;
    this.steps = steps;
    this.problems = problems;
  }

  /**
   * @param serial what was scanned: a serial, a sheet or a step of a sheet
   * @param again a voided reading whose typed phases are to be corrected and logged once more
   * @param signed code of a step that was signed off right before
   * @param waits name of a file just dropped that waits for a person
   */
  @GetMapping
  ModelAndView bench(
      @RequestParam(defaultValue = "") String serial,
      @RequestParam(required = false) @Nullable Long benchId,
      @RequestParam(required = false) @Nullable Long again,
      @RequestParam(defaultValue = "") String waits,
      @RequestParam(defaultValue = "") String signed,
      HttpServletRequest request) {
    HttpSession session = request.getSession();
    if (benchId != null) {
      BenchView.choose(session, benchId);
    }
    BenchForm form = again == null ? BenchForm.EMPTY : view.voided(serial, again);
    boolean works = request.isUserInRole("TECHNICIAN") || request.isUserInRole("QA");
    ModelAndView page =
        works ? view.visit(serial, session, form) : view.page(serial, session, form);
    view.signed(page, signed);
    return page.addObject("waits", waits);
  }

  @PostMapping("/readings")
  ModelAndView log(
      @RequestParam String serial,
      @RequestParam long benchId,
      @RequestParam(required = false) @Nullable Long seenReadingId,
      @RequestParam(required = false) @Nullable Instant takenAt,
      @RequestParam MultiValueMap<String, String> typed,
      @RequestParam(required = false) @Nullable MultipartFile file,
      HttpSession session) {
    BenchForm form = BenchForm.of(typed);
    BenchWork.Logged logged = new BenchWork.Logged(serial, benchId, seenReadingId, takenAt);
    return answer(
        serial,
        session,
        form,
        () -> {
          if (file != null && !file.isEmpty()) {
            work.log(logged, form.temperatureC(), name(file), bytes(file));
          } else {
            work.log(logged, form);
          }
        });
  }

  /** A file dropped on the page: its name or its content says whose it is. */
  @PostMapping("/files")
  ModelAndView file(
      @RequestParam(defaultValue = "") String serial,
      @RequestParam long benchId,
      @RequestParam(required = false) @Nullable Instant takenAt,
      @RequestParam MultipartFile file,
      HttpSession session) {
    List<FileOutcome> outcome = new ArrayList<>();
    ModelAndView answer =
        answer(
            serial,
            session,
            BenchForm.EMPTY,
            () -> outcome.add(files.take(name(file), bytes(file), benchId, null, takenAt)));
    if (outcome.isEmpty()) {
      return answer;
    }
    String found = outcome.get(0).serial();
    return outcome.get(0).outcome() == FileOutcome.Kind.WAITING
        ? new ModelAndView(
            "redirect:"
                + UriComponentsBuilder.fromPath("/bench")
                    .queryParam("serial", serial)
                    .queryParam("waits", name(file))
                    .encode()
                    .toUriString())
        : redirect(found == null ? serial : found);
  }

  /** Takes the reading from the bench's instrument. */
  @PostMapping("/captures")
  ModelAndView capture(
      @RequestParam String serial, @RequestParam long benchId, HttpSession session) {
    return answer(serial, session, BenchForm.EMPTY, () -> captures.capture(serial, benchId, null));
  }

  /** What was really cut or set, in the unit of the field that it was typed into. */
  @PostMapping("/instructions/{id}")
  ModelAndView signOff(
      @PathVariable long id,
      @RequestParam int version,
      @RequestParam String serial,
      @RequestParam(defaultValue = "") String doneTrimMm,
      @RequestParam(defaultValue = "") String doneTrimInch,
      @RequestParam(defaultValue = "") String doneSettingMm,
      @RequestParam(defaultValue = "") String doneSettingInch,
      @RequestParam(defaultValue = "") String note,
      @RequestParam(required = false) @Nullable Instant doneAt,
      HttpSession session) {
    return answer(
        serial,
        session,
        BenchForm.EMPTY,
        () ->
            work.signOff(
                id,
                version,
                lengthMm("doneTrimMm", doneTrimMm, doneTrimInch),
                lengthMm("doneSettingMm", doneSettingMm, doneSettingInch),
                note,
                doneAt));
  }

  @PostMapping("/readings/{id}/void")
  ModelAndView voidReading(
      @PathVariable long id,
      @RequestParam String serial,
      @RequestParam(defaultValue = "") String reason,
      HttpSession session) {
    return answer(serial, session, BenchForm.EMPTY, () -> work.voidReading(id, reason));
  }

  @PostMapping("/temperature")
  ModelAndView temperature(
      @RequestParam(defaultValue = "") String serial,
      @RequestParam long benchId,
      @RequestParam(defaultValue = "") String benchTemperatureC,
      HttpSession session) {
    return answer(
        serial,
        session,
        BenchForm.EMPTY,
        () -> temperatures.note(benchId, Numbers.read("temperatureC", benchTemperatureC)));
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
      @RequestParam(required = false) @Nullable Instant takenAt,
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
                temperatureC.isBlank()
                    ? temperatures.present(benchId)
                    : Numbers.read("temperatureC", temperatureC),
                takenAt));
  }

  /** A step of a sheet, signed off by its barcode. */
  @PostMapping("/steps")
  ModelAndView signStep(
      @RequestParam(defaultValue = "") String code,
      @RequestParam(required = false) @Nullable Instant doneAt,
      HttpSession session) {
    List<Steps.SignedStep> signed = new ArrayList<>();
    ModelAndView answer =
        answer(code, session, BenchForm.EMPTY, () -> signed.add(steps.sign(code, doneAt)));
    return signed.isEmpty()
        ? answer
        : new ModelAndView(
            "redirect:"
                + UriComponentsBuilder.fromPath("/bench")
                    .queryParam("serial", signed.get(0).serial())
                    .queryParam("signed", code.strip())
                    .encode()
                    .toUriString());
  }

  @PostMapping("/pauses")
  ModelAndView pause(
      @RequestParam(defaultValue = "") String serial,
      @RequestParam long benchId,
      @RequestParam(defaultValue = "") String note,
      HttpSession session) {
    ModelAndView answer =
        answer(serial, session, BenchForm.EMPTY, () -> pauses.pause(benchId, serial, note));
    return answer.getStatus() == null ? new ModelAndView("redirect:/bench") : answer;
  }

  @PostMapping("/pauses/{id}/resume")
  ModelAndView resume(@PathVariable long id, HttpSession session) {
    List<String> at = new ArrayList<>();
    ModelAndView answer =
        answer(
            "",
            session,
            BenchForm.EMPTY,
            () -> {
              String serial = pauses.resume(id).serial();
              at.add(serial == null ? "" : serial);
            });
    return at.isEmpty() ? answer : redirect(at.get(0));
  }

  private ModelAndView answer(String serial, HttpSession session, BenchForm form, Runnable write) {
    try {
      write.run();
    } catch (RuntimeException e) {
      Problem problem = problems.of(e);
      List<Object> said = new ArrayList<>();
      if (problem.errors().isEmpty()) {
        said.add(problem.detail());
      }
      problem.errors().forEach(error -> said.add(said(error)));
      return view.refused(serial, session, form, said, problem.httpStatus());
    }
    return redirect(serial);
  }

  private static ModelAndView redirect(String serial) {
    String url =
        UriComponentsBuilder.fromPath("/bench").queryParam("serial", serial).encode().toUriString();
    return new ModelAndView("redirect:" + url);
  }

  private static Sentence said(FieldProblem error) {
    if (error.field().equals("code")) {
      return error.message();
    }
    String label = LABELS.get(error.field().replaceFirst("\\[.*", ""));
    return label == null
        ? Sentence.of("bench.fieldProblem", error.field(), error.message())
        : Sentence.of("bench.fieldProblem", Sentence.of(label), error.message());
  }

  private static @Nullable Double lengthMm(String field, String typedMm, String typedInch) {
    Double inches = Numbers.readOptional(field, typedInch);
    return inches == null
        ? Numbers.readOptional(field, typedMm)
        : Double.valueOf(LengthUnit.INCH.toMm(inches));
  }

  private static String name(MultipartFile file) {
    String name = file.getOriginalFilename();
    return name == null ? "" : name;
  }

  private static byte[] bytes(MultipartFile file) {
    try {
      return file.getBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
