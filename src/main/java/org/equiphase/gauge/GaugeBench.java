package org.equiphase.gauge;

import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
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

/** A gauge study at the bench: one part at a time, and never what was measured before. */
@Controller
@RequestMapping("/bench/gauge/{id}")
class GaugeBench {

  private final Studies studies;

  GaugeBench(Studies studies) {
    this.studies = studies;
  }

  @GetMapping
  ModelAndView next(@PathVariable long id) {
    return page(id, "", "", null, HttpStatus.OK);
  }

  @PostMapping("/values")
  ModelAndView record(
      @PathVariable long id,
      @RequestParam(defaultValue = "") String serial,
      @RequestParam(defaultValue = "") String phaseDeg) {
    try {
      studies.record(id, serial, Numbers.read("phaseDeg", phaseDeg));
    } catch (InvalidInputException e) {
      return page(id, serial, phaseDeg, e.problems().get(0).message(), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return page(id, serial, phaseDeg, e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/bench/gauge/" + id);
  }

  @PostMapping("/strike")
  ModelAndView strike(@PathVariable long id, @RequestParam(defaultValue = "") String reason) {
    try {
      studies.strike(id, reason);
    } catch (InvalidInputException e) {
      return page(id, "", "", e.problems().get(0).message(), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return page(id, "", "", e.words(), HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/bench/gauge/" + id);
  }

  private ModelAndView page(
      long id, String serial, String phaseDeg, @Nullable Sentence refused, HttpStatus status) {
    Study study = studies.study(id);
    ModelAndView page = new ModelAndView("gauge/bench", status);
    page.addObject("study", study);
    page.addObject("serial", serial);
    page.addObject("phaseDeg", phaseDeg);
    page.addObject("refused", refused);
    try {
      page.addObject(
          "part",
          study.state() == Study.State.RUNNING
              ? studies.next(study).map(turn -> study.parts().get(turn.part())).orElse(null)
              : null);
      page.addObject("left", studies.left(study));
      page.addObject("all", study.parts().size() * study.trials());
    } catch (ConflictException e) {
      page.addObject("refused", refused == null ? e.words() : refused);
    }
    return page;
  }
}
