package org.equiphase.release;

import java.util.Map;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Releases on screen: the register, a set before its release, and a certificate. */
@Controller
@RequestMapping("/release")
class ReleasePages {

  private final Releases releases;
  private final Certificates certificates;

  ReleasePages(Releases releases, Certificates certificates) {
    this.releases = releases;
    this.certificates = certificates;
  }

  @GetMapping
  String register(@RequestParam(defaultValue = "") String number, Model model) {
    model.addAttribute("number", number);
    model.addAttribute("releases", releases.find(number));
    return "release/register";
  }

  @GetMapping("/sets/{setId}")
  ModelAndView set(@PathVariable long setId) {
    return set(setId, "", Map.of(), HttpStatus.OK);
  }

  @PostMapping("/sets/{setId}")
  ModelAndView release(
      @PathVariable long setId,
      @RequestParam(defaultValue = "") String password,
      @RequestParam(defaultValue = "") String remark,
      @RequestParam String seenSha256) {
    try {
      SetRelease release = releases.release(setId, password, remark, seenSha256);
      return new ModelAndView("redirect:/release/" + release.id());
    } catch (InvalidInputException e) {
      return set(setId, remark, e.byField(), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return set(setId, remark, Map.of("conflict", e.words()), HttpStatus.CONFLICT);
    }
  }

  @GetMapping("/{id}")
  ModelAndView certificate(@PathVariable long id) {
    return certificate(id, "", Map.of(), HttpStatus.OK);
  }

  @GetMapping("/{id}/check")
  ModelAndView check(@PathVariable long id) {
    return certificate(id, "", Map.of(), HttpStatus.OK).addObject("check", releases.check(id));
  }

  @PostMapping("/{id}/withdrawal")
  ModelAndView withdraw(
      @PathVariable long id,
      @RequestParam(defaultValue = "") String password,
      @RequestParam(defaultValue = "") String reason) {
    try {
      releases.withdraw(id, password, reason);
      return new ModelAndView("redirect:/release/" + id);
    } catch (InvalidInputException e) {
      return certificate(id, reason, e.byField(), HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      return certificate(id, reason, Map.of("conflict", e.words()), HttpStatus.CONFLICT);
    }
  }

  private ModelAndView set(
      long setId, String remark, Map<String, Sentence> errors, HttpStatusCode status) {
    ModelAndView page = new ModelAndView("release/set", status);
    return page.addObject("outlook", releases.outlook(setId))
        .addObject("releases", releases.ofSet(setId))
        .addObject("remark", remark)
        .addObject("errors", errors);
  }

  private ModelAndView certificate(
      long id, String reason, Map<String, Sentence> errors, HttpStatusCode status) {
    ModelAndView page = new ModelAndView("release/certificate", status);
    return page.addObject("sheet", certificates.sheet(releases.release(id)))
        .addObject("reason", reason)
        .addObject("errors", errors);
  }
}
