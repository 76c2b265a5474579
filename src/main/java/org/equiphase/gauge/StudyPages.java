package org.equiphase.gauge;

import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.equiphase.account.Accounts;
import org.equiphase.account.Role;
import org.equiphase.audit.Actor;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Words;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Digits;
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

  private static final int MOST_WHOLE = 1_000_000_000;

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
      @RequestParam(defaultValue = "") String seed,
      @RequestParam(defaultValue = "") String parts,
      @RequestParam(required = false) @Nullable List<String> appraisers) {
    Map<String, Object> typed = new LinkedHashMap<>();
    typed.put("name", name);
    typed.put("benchId", benchId == null ? "" : benchId);
    typed.put("frequencyGhz", frequencyGhz);
    typed.put("toleranceWidthDeg", toleranceWidthDeg);
    typed.put("trials", trials);
    typed.put("seed", seed);
    typed.put("parts", parts);
    typed.put("appraisers", appraisers == null ? List.of() : appraisers);
    try {
      Checks checks = new Checks();
      Double ghz = number(checks, "frequencyGhz", frequencyGhz);
      Double width = number(checks, "toleranceWidthDeg", toleranceWidthDeg);
      Long times = whole(checks, "trials", trials);
      Long start = whole(checks, "seed", seed);
      checks.done();
      Study study =
          studies.plan(
              new StudyDraft(
                  name,
                  benchId,
                  ghz == null ? null : ghz * 1e9,
                  width,
                  times == null ? null : Math.toIntExact(times),
                  start,
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

  private static @Nullable Long whole(Checks checks, String field, String typed) {
    Double value = number(checks, field, typed);
    if (value == null) {
      return null;
    }
    if (value != Math.rint(value) || Math.abs(value) > MOST_WHOLE) {
      checks.problem(field, Sentence.of("gauge.notWhole", Digits.of(value), MOST_WHOLE));
      return null;
    }
    return value.longValue();
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
    boolean open = studies.open(study);
    List<StudyValue> values = open ? studies.values(id) : List.of();
    Bench bench = catalog.bench(study.benchId());
    model.addAttribute("study", study);
    model.addAttribute("bench", bench);
    model.addAttribute("open", open);
    model.addAttribute("taken", studies.taken(study));
    model.addAttribute("measures", study.appraisers().contains(Actor.name()));
    model.addAttribute("struck", values.stream().filter(v -> v.struckAt() != null).toList());
    if (study.state() == Study.State.COMPLETE) {
      try {
        Analysis analysis = Analysis.of(study, values);
        model.addAttribute("analysis", analysis);
        model.addAttribute("picture", StudyPicture.of(study, analysis));
        model.addAttribute("legend", legend(study));
        model.addAttribute("beyond", beyond(study, analysis));
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

  private static String legend(Study study) {
    return IntStream.range(0, study.appraisers().size())
        .mapToObj(i -> i + 1 + " " + study.appraisers().get(i))
        .collect(Collectors.joining(", "));
  }

  /** Part and appraiser of each range above its limit. */
  private static String beyond(Study study, Analysis analysis) {
    return analysis.range().rangesBeyond().stream()
        .map(
            cell -> study.parts().get(cell.part()) + " " + study.appraisers().get(cell.appraiser()))
        .collect(Collectors.joining(", "));
  }

  @PostMapping("/{id}/cancel")
  String cancel(@PathVariable long id, @RequestParam int version, @RequestParam String reason) {
    studies.cancel(id, version, reason);
    return "redirect:/gauge-studies/" + id;
  }

  @GetMapping("/{id}/values.csv")
  ResponseEntity<byte[]> csv(@PathVariable long id) {
    return FileAnswer.csv(
        "gauge-study-" + id, StudyBook.values(studies.study(id), studies.values(id)).csv());
  }

  @GetMapping("/{id}/figures.csv")
  ResponseEntity<byte[]> figures(@PathVariable long id) {
    return FileAnswer.csv(
        "gauge-study-" + id + "-figures",
        StudyBook.figures(studies.study(id), studies.values(id)).csv());
  }

  /** Values, and the figures beside them. */
  @GetMapping("/{id}/values.xlsx")
  ResponseEntity<byte[]> xlsx(@PathVariable long id, Locale locale) {
    return FileAnswer.xlsx(
        "gauge-study-" + id,
        StudyBook.xlsx(studies.study(id), studies.values(id), new Words(locale)));
  }
}
