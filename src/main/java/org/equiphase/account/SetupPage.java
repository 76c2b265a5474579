package org.equiphase.account;

import java.util.Map;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
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

  SetupPage(FirstAdministrator first) {
    this.first = first;
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
      @RequestParam(defaultValue = "") String password) {
    checkNeeded();
    try {
      first.add(code, username, displayName, password);
    } catch (InvalidInputException e) {
      Map<String, Object> model =
          Map.of("errors", e.byField(), "username", username, "displayName", displayName);
      return new ModelAndView("account/setup", model, HttpStatus.BAD_REQUEST);
    }
    return new ModelAndView("redirect:/sign-in");
  }

  private void checkNeeded() {
    if (!first.isNeeded()) {
      throw new NotFoundException("page", "/setup");
    }
  }
}
