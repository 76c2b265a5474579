package org.equiphase.gauge;

import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.equiphase.account.Accounts;
import org.equiphase.account.Role;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Column;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.Words;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where QA plans gauge studies and reads what they say. */
@Controller
@RequestMapping("/gauge-studies")
class StudyPages {

  private final Studies studies;
  private final Catalog catalog;
  private final Accounts accounts;

  StudyPages(Studies studies, Catalog catalog, Accounts accounts) {
    this.studies = studies;
    this.catalog = catalog;
    this.accounts = accounts;
  }

  @GetMapping
  String studies(Model model) {
    model.addAttribute("studies", studies.latest());
    return "gauge/studies";
  }

  /** A new one, or a copy of another. */
  @GetMapping("/new")
  ModelAndView form(@RequestParam(required = false) @Nullable Long copyOf) {
    Map<String, Object> typed = new LinkedHashMap<>();
    typed.put("trials", "3");
    if (copyOf != null) {
      Study study = studies.study(copyOf);
      typed.put("name", study.name());
      typed.put("benchId", study.benchId());
      typed.put("frequencyGhz", "" + study.frequencyHz() / 1e9);
      typed.put("toleranceWidthDeg", "" + study.toleranceWidthDeg());
      typed.put("trials", "" + study.trials());
      typed.put("parts", String.join("\n", study.parts()));
      typed.put("appraisers", study.appraisers());
    }
    return form(typed, Map.of(), HttpStatus.OK);
  }

  @PostMapping
  ModelAndView plan(
      @RequestParam(defaultValue = "") String name,
      @RequestParam(required = false) @Nullable Long benchId,
      @RequestParam(defaultValue = "") String frequencyGhz,
      @RequestParam(defaultValue = "") String toleranceWidthDeg,
      @RequestParam(defaultValue = "") String trials,
      @RequestParam(defaultValue = "") String parts,
      @RequestParam(required = false) @Nullable List<String> appraisers) {
    Map<String, Object> typed = new LinkedHashMap<>();
    typed.put("name", name);
    typed.put("benchId", benchId == null ? "" : benchId);
    typed.put("frequencyGhz", frequencyGhz);
    typed.put("toleranceWidthDeg", toleranceWidthDeg);
    typed.put("trials", trials);
    typed.put("parts", parts);
    typed.put("appraisers", appraisers == null ? List.of() : appraisers);
    try {
      Checks checks = new Checks();
      Double ghz = number(checks, "frequencyGhz", frequencyGhz);
      Double width = number(checks, "toleranceWidthDeg", toleranceWidthDeg);
      Double times = number(checks, "trials", trials);
      checks.done();
      Study study =
          studies.plan(
              new StudyDraft(
                  name,
                  benchId,
                  ghz == null ? null : ghz * 1e9,
                  width,
                  times == null || times != Math.rint(times) ? null : (int) (double) times,
                  null,
                  Arrays.stream(parts.split("[\\s,;]+")).filter(p -> !p.isEmpty()).toList(),
                  appraisers));
      return new ModelAndView("redirect:/gauge-studies/" + study.id());
    } catch (InvalidInputException e) {
      Map<String, Sentence> errors = new HashMap<>();
      for (FieldProblem problem : e.problems()) {
        errors.putIfAbsent(problem.field().replace("Hz", "Ghz"), problem.message());
      }
      return form(typed, errors, HttpStatus.BAD_REQUEST);
    }
  }

  private static @Nullable Double number(Checks checks, String field, String typed) {
    try {
      return Numbers.readOptional(field, typed);
    } catch (InvalidInputException e) {
      e.problems().forEach(p -> checks.problem(p.field(), p.message()));
      return null;
    }
  }

  private ModelAndView form(
      Map<String, Object> typed, Map<String, Sentence> errors, HttpStatus status) {
    ModelAndView page = new ModelAndView("gauge/form", status);
    page.addObject("typed", typed);
    page.addObject("errors", errors);
    page.addObject("benches", catalog.benches());
    page.addObject(
        "people",
        accounts.people().stream()
            .filter(p -> p.enabled() && (p.has(Role.TECHNICIAN) || p.has(Role.QA)))
            .toList());
    return page;
  }

  @GetMapping("/{id}")
  String study(@PathVariable long id, Model model) {
    Study study = studies.study(id);
    List<StudyValue> values = studies.values(id);
    Bench bench = catalog.bench(study.benchId());
    model.addAttribute("study", study);
    model.addAttribute("bench", bench);
    model.addAttribute("taken", values.stream().filter(v -> v.struckAt() == null).count());
    model.addAttribute("struck", values.stream().filter(v -> v.struckAt() != null).toList());
    if (study.state() == Study.State.COMPLETE) {
      try {
        Analysis analysis = Analysis.of(study, values);
        model.addAttribute("analysis", analysis);
        model.addAttribute("picture", StudyPicture.of(study, analysis));
        model.addAttribute(
            "budgetDeg",
            Math.hypot(
                bench.instrument().phaseStandardUncertaintyDeg(),
                bench.transmissionBudget().connectorDeg()));
      } catch (ConflictException e) {
        model.addAttribute("noAnalysis", e.words());
      }
    }
    return "gauge/study";
  }

  @PostMapping("/{id}/cancel")
  String cancel(@PathVariable long id, @RequestParam int version, @RequestParam String reason) {
    studies.cancel(id, version, reason);
    return "redirect:/gauge-studies/" + id;
  }

  @GetMapping("/{id}/values.csv")
  ResponseEntity<byte[]> csv(@PathVariable long id) {
    return FileAnswer.csv("gauge-study-" + id, table(id).csv());
  }

  @GetMapping("/{id}/values.xlsx")
  ResponseEntity<byte[]> xlsx(@PathVariable long id, Locale locale) {
    String name = studies.study(id).name();
    return FileAnswer.xlsx(
        "gauge-study-" + id, table(id).xlsx(new Words(locale), "Gauge study " + id, name));
  }

  private Table<StudyValue> table(long id) {
    Study study = studies.study(id);
    return new Table<>(
        List.of(
            Column.<StudyValue>text(
                "part", Sentence.of("gauge.part"), 36, v -> study.parts().get(v.part())),
            Column.<StudyValue>text(
                "appraiser",
                Sentence.of("gauge.appraiser"),
                36,
                v -> study.appraisers().get(v.appraiser())),
            Column.<StudyValue>number(
                "trial", Sentence.of("gauge.trial"), 16, Look.INTEGER, v -> v.trial() + 1),
            Column.<StudyValue>number(
                "phase_deg", Sentence.of("gauge.phaseDeg"), 24, StudyValue::phaseDeg),
            Column.<StudyValue>text(
                "struck_out_for", Sentence.of("gauge.struckFor"), 60, StudyValue::strikeReason)),
        studies.values(id));
  }
}
