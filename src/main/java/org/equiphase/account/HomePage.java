package org.equiphase.account;

import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The sign-in page, and where each role goes from there. */
@Controller
class HomePage {

  private final Accounts accounts;

  HomePage(Accounts accounts) {
    this.accounts = accounts;
  }

  @GetMapping("/sign-in")
  String signIn(Model model) {
    model.addAttribute("setupNeeded", accounts.isEmpty());
    return "account/sign-in";
  }

  @GetMapping("/")
  String home(@AuthenticationPrincipal SignedIn person) {
    if (person.has(Role.TECHNICIAN)) {
      return "redirect:/bench";
    }
    if (person.has(Role.QA) || person.has(Role.PLANNER)) {
      return "redirect:/workorders";
    }
    return "redirect:/people";
  }
}
