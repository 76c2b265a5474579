package org.equiphase.traveler;

import jakarta.servlet.http.HttpServletRequest;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.util.UriComponentsBuilder;

/** Signs off steps by a scan, and shows how far an assembly is on its route. */
@Controller
@RequestMapping("/traveler")
class StepPages {

  private final Steps steps;

  StepPages(Steps steps) {
    this.steps = steps;
  }

  /** A step with what can go wrong at it. */
  public record ShownStep(StepState state, List<Caution> cautions) {

    public ShownStep {
      cautions = List.copyOf(cautions);
    }
  }

  /**
   * @param signed code of the step that was signed off right before
   */
  @GetMapping("/steps")
  ModelAndView scan(@RequestParam(defaultValue = "") String signed) {
    ModelAndView page = page(null, HttpStatus.OK);
    if (!signed.isBlank()) {
      try {
        steps.signed(signed).ifPresent(step -> page.addObject("signed", step));
      } catch (InvalidInputException | NotFoundException e) {
        return page;
      }
    }
    return page;
  }

  @PostMapping("/steps")
  ModelAndView sign(@RequestParam(defaultValue = "") String code) {
    try {
      steps.sign(code, null);
    } catch (InvalidInputException e) {
      return page(e.problems().get(0).message(), HttpStatus.BAD_REQUEST);
    } catch (NotFoundException e) {
      return page(e.words(), HttpStatus.NOT_FOUND);
    } catch (ConflictException e) {
      return page(e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView(
        "redirect:"
            + UriComponentsBuilder.fromPath("/traveler/steps")
                .queryParam("signed", code.strip())
                .encode()
                .toUriString());
  }

  @GetMapping("/assemblies/{serial}")
  ModelAndView assembly(@PathVariable String serial) {
    return assembly(serial, null, HttpStatus.OK);
  }

  @PostMapping("/steps/{signOffId}/withdrawal")
  ModelAndView withdraw(
      @PathVariable long signOffId,
      @RequestParam String serial,
      @RequestParam(defaultValue = "") String reason,
      HttpServletRequest request) {
    try {
      steps.withdraw(signOffId, reason, request.isUserInRole("QA"));
    } catch (InvalidInputException e) {
      Sentence said = Sentence.of("traveler.steps.reasonProblem", e.problems().get(0).message());
      return assembly(serial, said, HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return assembly(serial, e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/traveler/assemblies/{serial}", "serial", serial);
  }

  private ModelAndView assembly(String serial, @Nullable Sentence said, HttpStatus status) {
    Steps.Progress progress = steps.of(serial);
    StepWords words = new StepWords(progress.order().specification(), Format.PLAIN);
    List<ShownStep> shown = new ArrayList<>();
    progress.steps().forEach(s -> shown.add(new ShownStep(s, words.cautions(s.step().kind()))));
    return new ModelAndView("traveler/assembly", status)
        .addObject("said", said)
        .addObject("progress", progress)
        .addObject("assembly", progress.assembly())
        .addObject("order", progress.order())
        .addObject("shown", shown);
  }

  private static ModelAndView page(@Nullable Sentence said, HttpStatus status) {
    return new ModelAndView("traveler/steps", status).addObject("said", said);
  }
}
