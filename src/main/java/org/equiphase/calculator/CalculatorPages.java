package org.equiphase.calculator;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.util.UriComponentsBuilder;

/** The calculations as pages: small ones by their address, lists and files by a form. */
@Controller
@RequestMapping("/calculator")
class CalculatorPages {

  private static final String EXAMPLE = "example";

  private final List<Calculation> calculations;
  private final Problems problems;

  CalculatorPages(List<Calculation> calculations, Problems problems) {
    this.calculations = calculations;
    this.problems = problems;
  }

  @GetMapping
  ModelAndView overview() {
    return new ModelAndView("calculator/overview", "calculations", calculations);
  }

  @GetMapping("/{name}")
  ModelAndView show(@PathVariable String name, @RequestParam Map<String, String> query) {
    Calculation calculation = calculation(name);
    if (calculation.posted()) {
      boolean example = query.containsKey(EXAMPLE);
      return page(calculation, new Typed(example ? calculation.example() : Map.of(), null));
    }
    Typed typed = new Typed(query, null);
    boolean given = calculation.inputs().stream().anyMatch(i -> query.containsKey(i.name()));
    return given ? answer(calculation, typed) : page(calculation, typed);
  }

  @PostMapping("/{name}")
  ModelAndView calculate(
      @PathVariable String name,
      @RequestParam Map<String, String> form,
      @RequestParam(required = false) @Nullable MultipartFile file) {
    return answer(calculation(name), new Typed(form, file));
  }

  private Calculation calculation(String name) {
    return calculations.stream()
        .filter(c -> c.name().equals(name))
        .findFirst()
        .orElseThrow(() -> new NotFoundException("calculation", name));
  }

  private ModelAndView answer(Calculation calculation, Typed typed) {
    ModelAndView page = page(calculation, typed);
    try {
      page.addObject("r", calculation.calculate(typed));
    } catch (RuntimeException e) {
      Problem problem = problems.of(e);
      page.setStatus(problem.httpStatus());
      complain(
          page,
          problem.errors().isEmpty()
              ? List.of(new Complaint(null, Texts.say(problem.detail())))
              : problem.errors().stream().map(p -> complaint(calculation, typed, p)).toList());
    }
    return page;
  }

  private static ModelAndView page(Calculation calculation, Typed typed) {
    ModelAndView page = new ModelAndView("calculator/" + calculation.name());
    page.addObject("calculation", calculation);
    page.addObject("typed", typed);
    page.addObject("exampleUrl", exampleUrl(calculation));
    complain(page, List.of());
    return page;
  }

  private static void complain(ModelAndView page, List<Complaint> complaints) {
    Map<String, String> errors = new LinkedHashMap<>();
    for (Complaint complaint : complaints) {
      if (complaint.input() != null) {
        errors.merge(complaint.input().name(), complaint.message(), (a, b) -> a + "; " + b);
      }
    }
    page.addObject("complaints", complaints);
    page.addObject("errors", errors);
  }

  /** Small calculations carry their example in the address; the others fill in the form. */
  private static String exampleUrl(Calculation calculation) {
    UriComponentsBuilder url = UriComponentsBuilder.fromPath("/calculator/" + calculation.name());
    if (calculation.posted()) {
      url.queryParam(EXAMPLE);
    } else {
      calculation.example().forEach(url::queryParam);
    }
    return url.encode().toUriString();
  }

  /**
   * What is wrong.
   *
   * @param input the field; null where no field is to blame
   */
  record Complaint(@Nullable Input input, String message) {}

  /** Finds the page's field for a refusal that names a field of the calculation. */
  private static Complaint complaint(Calculation calculation, Typed typed, FieldProblem problem) {
    String field = problem.field();
    String message = Texts.say(problem.message());
    for (Input input : calculation.inputs()) {
      if (input.name().equals(field) || input.requestFields().contains(field)) {
        return new Complaint(input, message);
      }
    }
    String list = field.replaceFirst("[\\[.].*", "");
    String rest = field.substring(list.length()).replaceFirst("^\\.", "");
    for (Input input : calculation.inputs()) {
      if (input.requestFields().contains(list)) {
        return new Complaint(input, place(typed, input, rest) + ": " + message);
      }
    }
    return new Complaint(null, field + ": " + message);
  }

  /** "[2].serial" is the serial of the third line that is not blank. */
  private static String place(Typed typed, Input input, String rest) {
    int close = rest.indexOf(']');
    if (!rest.startsWith("[") || close < 0) {
      return rest;
    }
    int index = Integer.parseInt(rest.substring(1, close));
    List<Typed.Row> rows = typed.rows(input.name());
    int line = index < rows.size() ? rows.get(index).line() : index + 1;
    String inside = rest.substring(close + 1).replaceFirst("^\\.", "");
    return Texts.say(
        inside.isEmpty()
            ? Sentence.of("calculator.line", line)
            : Sentence.of("calculator.linePart", line, inside));
  }
}
