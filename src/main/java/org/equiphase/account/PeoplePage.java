package org.equiphase.account;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where the administrator adds people and changes what they may do. */
@Controller
@RequestMapping("/people")
class PeoplePage {

  private final Accounts accounts;
  private final ApiTokens tokens;
  private final ProviderAccounts providers;

  PeoplePage(Accounts accounts, ApiTokens tokens, ProviderAccounts providers) {
    this.accounts = accounts;
    this.tokens = tokens;
    this.providers = providers;
  }

  @GetMapping
  String people(Model model) {
    model.addAllAttributes(list(new NewPerson("", "", "", Set.of()), Map.of()));
    return "account/people";
  }

  @PostMapping
  ModelAndView add(
      @RequestParam(defaultValue = "") String username,
      @RequestParam(defaultValue = "") String displayName,
      @RequestParam(defaultValue = "") String password,
      @RequestParam(required = false) @Nullable Set<Role> roles) {
    NewPerson person = new NewPerson(username, displayName, password, roles);
    try {
      accounts.add(person);
    } catch (InvalidInputException e) {
      Map<String, Object> model = list(person, e.byField());
      return new ModelAndView("account/people", model, HttpStatus.BAD_REQUEST);
    } catch (ConflictException e) {
      Map<String, Object> model = list(person, Map.of("username", e.words()));
      return new ModelAndView("account/people", model, HttpStatus.CONFLICT);
    }
    return new ModelAndView("redirect:/people");
  }

  @GetMapping("/{username}")
  String person(@PathVariable String username, Model model) {
    model.addAllAttributes(one(accounts.person(username), Map.of()));
    return "account/person";
  }

  @PostMapping("/{username}")
  ModelAndView change(
      @PathVariable String username,
      @RequestParam(defaultValue = "") String displayName,
      @RequestParam(required = false) @Nullable Set<Role> roles,
      @RequestParam(defaultValue = "false") boolean enabled,
      @RequestParam long version) {
    try {
      accounts.change(username, new PersonChange(displayName, roles, enabled, version));
    } catch (InvalidInputException e) {
      return refused(username, e);
    }
    return new ModelAndView("redirect:/people");
  }

  @PostMapping("/{username}/password")
  ModelAndView resetPassword(
      @PathVariable String username, @RequestParam(defaultValue = "") String password) {
    try {
      accounts.resetPassword(username, password);
    } catch (InvalidInputException e) {
      return refused(username, e);
    }
    return new ModelAndView("redirect:/people");
  }

  /** Ends the person's sessions and revokes their tokens: for a password or token that got out. */
  @PostMapping("/{username}/sign-out-everywhere")
  String signOutEverywhere(@PathVariable String username) {
    accounts.signOutEverywhere(username);
    tokens.revokeAll(username);
    return "redirect:/people";
  }

  @PostMapping("/{username}/provider")
  ModelAndView connect(
      @PathVariable String username, @RequestParam(defaultValue = "") String providerName) {
    try {
      providers.connect(username, providerName);
    } catch (InvalidInputException e) {
      return refused(username, e);
    }
    return new ModelAndView("redirect:/people");
  }

  private ModelAndView refused(String username, InvalidInputException exception) {
    return new ModelAndView(
        "account/person",
        one(accounts.person(username), exception.byField()),
        HttpStatus.BAD_REQUEST);
  }

  private Map<String, Object> list(NewPerson form, Map<String, Sentence> errors) {
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("people", accounts.people());
    model.put("allRoles", Role.values());
    model.put("form", form);
    model.put("errors", errors);
    return model;
  }

  private Map<String, Object> one(Person person, Map<String, Sentence> errors) {
    return Map.of(
        "person",
        person,
        "allRoles",
        Role.values(),
        "providers",
        providers.providers(),
        "providerName",
        providers.nameOf(person.username()),
        "errors",
        errors);
  }
}
