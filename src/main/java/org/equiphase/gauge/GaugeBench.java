package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.Numbers;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** A gauge study at the bench: one part at a time, and never what was measured before. */
@Controller
@RequestMapping("/bench/gauge/{id}")
class GaugeBench {

  /** What a field is called on the page, by its name in the form. */
  private static final Map<String, String> LABELS =
      Map.of("serial", "gauge.scanPart", "phaseDeg", "gauge.phase", "reason", "gauge.strikeWhy");

  private final Studies studies;
  private final Catalog catalog;
  private final Problems problems;

  GaugeBench(Studies studies, Catalog catalog, Problems problems) {
    this.studies = studies;
    this.catalog = catalog;
    this.problems = problems;
  }

  /**
   * @param serial the part that was scanned; where it is the one asked for, its value is
   */
  @GetMapping
  ModelAndView next(@PathVariable long id, @RequestParam(defaultValue = "") String serial) {
    return page(id, serial, "", List.of(), HttpStatus.OK);
  }

  @PostMapping("/values")
  ModelAndView record(
      @PathVariable long id,
      @RequestParam int turn,
      @RequestParam(defaultValue = "") String serial,
      @RequestParam(defaultValue = "") String phaseDeg) {
    return answer(
        id,
        serial,
        phaseDeg,
        () -> studies.record(id, turn, serial, Numbers.read("phaseDeg", phaseDeg)));
  }

  /** Takes the value from the bench's instrument. */
  @PostMapping("/captures")
  ModelAndView capture(
      @PathVariable long id,
      @RequestParam int turn,
      @RequestParam(defaultValue = "") String serial) {
    return answer(id, serial, "", () -> studies.capture(id, turn, serial));
  }

  @PostMapping("/strike")
  ModelAndView strike(@PathVariable long id, @RequestParam(defaultValue = "") String reason) {
    return answer(id, "", "", () -> studies.strike(id, reason));
  }

  private ModelAndView answer(long id, String serial, String phaseDeg, Runnable write) {
    try {
      write.run();
    } catch (RuntimeException e) {
      Problem problem = problems.of(e);
      List<Sentence> said = new ArrayList<>();
      if (problem.errors().isEmpty()) {
        said.add(problem.detail());
      }
      problem.errors().forEach(error -> said.add(said(error)));
      // A value that answers another question than the one asked now is not offered again.
      return problem.httpStatus() == HttpStatus.CONFLICT
          ? page(id, "", "", said, problem.httpStatus())
          : page(id, serial, phaseDeg, said, problem.httpStatus());
    }
    return new ModelAndView("redirect:/bench/gauge/" + id);
  }

  private static Sentence said(FieldProblem error) {
    String label = LABELS.get(error.field());
    return Sentence.of(
        "bench.fieldProblem", label == null ? error.field() : Sentence.of(label), error.message());
  }

  private ModelAndView page(
      long id, String serial, String phaseDeg, List<Sentence> said, HttpStatus status) {
    Study study = studies.study(id);
    ModelAndView page = new ModelAndView("gauge/bench", status);
    List<Sentence> alerts = new ArrayList<>(said);
    boolean connected = false;
    try {
      Studies.Progress progress = studies.progress(study);
      page.addObject("progress", progress);
      Studies.Step asked = progress.asked();
      connected = asked != null && serial.strip().equals(asked.serial());
      if (asked != null && alerts.isEmpty() && !serial.isBlank() && !connected) {
        alerts.add(Sentence.of("gauge.otherPart", serial.strip(), asked.serial()));
      }
    } catch (ConflictException e) {
      if (alerts.isEmpty()) {
        alerts.add(e.words());
      }
    }
    page.addObject("study", study);
    page.addObject("bench", catalog.bench(study.benchId()));
    page.addObject("connected", connected);
    page.addObject("serial", connected ? serial.strip() : "");
    page.addObject("phaseDeg", phaseDeg);
    page.addObject("said", alerts);
    return page;
  }
}
