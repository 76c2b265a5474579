package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Map;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Adds the first administrator; is not there once anyone has an account. */
@Controller
@RequestMapping("/setup")
class SetupPage {

  private final FirstAdministrator first;
  private final Attempts attempts;

  SetupPage(FirstAdministrator first, Attempts attempts) {
    this.first = first;
    this.attempts = attempts;
  }

  @GetMapping
  String form(Model model) {
    checkNeeded();
    model.addAttribute("errors", Map.of());
    model.addAttribute("username", "");
    model.addAttribute("displayName", "");
    return "account/setup";
  }

  @PostMapping
  ModelAndView add(
      @RequestParam(defaultValue = "") String code,
      @RequestParam(defaultValue = "") String username,
      @RequestParam(defaultValue = "") String displayName,
      @RequestParam(defaultValue = "") String password,
      HttpServletRequest request) {
    checkNeeded();
    try {
      attempts.checkFrom(request.getRemoteAddr());
      first.add(code, username, displayName, password);
    } catch (InvalidInputException e) {
      if (e.byField().containsKey("code")) {
        attempts.failedFrom(request.getRemoteAddr());
      }
      return again(e.byField(), username, displayName, HttpStatus.BAD_REQUEST);
    } catch (TooManyAttemptsException e) {
      return again(Map.of("code", e.words()), username, displayName, HttpStatus.TOO_MANY_REQUESTS);
    }
    return new ModelAndView("redirect:/sign-in?added");
  }

  private static ModelAndView again(
      Map<String, Sentence> errors, String username, String displayName, HttpStatus status) {
    return new ModelAndView(
        "account/setup",
        Map.of("errors", errors, "username", username, "displayName", displayName),
        status);
  }

  private void checkNeeded() {
    if (!first.isNeeded()) {
      throw new NotFoundException("page", "/setup");
    }
  }
}
