package org.equiphase.account;

import org.jspecify.annotations.Nullable;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The sign-in page, and where each role goes from there. */
@Controller
class HomePage {

  private final Accounts accounts;
  private final ProviderAccounts providers;

  HomePage(Accounts accounts, ProviderAccounts providers) {
    this.accounts = accounts;
    this.providers = providers;
  }

  @GetMapping("/sign-in")
  String signIn(@RequestParam @Nullable Integer wait, Model model) {
    model.addAttribute("setupNeeded", accounts.isEmpty());
    model.addAttribute("waitSeconds", wait);
    model.addAttribute("providers", providers.providers());
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
