package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import org.equiphase.account.ApiTokens.NewToken;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.Sentence;
import org.equiphase.web.ShownOnce;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.security.web.context.SecurityContextRepository;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** One's own password, sessions and API tokens. */
@Controller
@RequestMapping("/account")
class AccountPage {

  private final Accounts accounts;
  private final ApiTokens tokens;
  private final PersonPreferences preferences;
  private final Sessions sessions;
  private final SecurityContextRepository sessionContexts =
      new HttpSessionSecurityContextRepository();
  private final Clock clock;

  AccountPage(
      Accounts accounts,
      ApiTokens tokens,
      PersonPreferences preferences,
      Sessions sessions,
      Clock clock) {
    this.accounts = accounts;
    this.tokens = tokens;
    this.preferences = preferences;
    this.sessions = sessions;
    this.clock = clock;
  }

  @GetMapping
  String page(@AuthenticationPrincipal SignedIn person, HttpServletRequest request, Model model) {
    model.addAllAttributes(contents(person, Map.of(), null, request));
    return "account/account";
  }

  @PostMapping("/password")
  ModelAndView changePassword(
      @AuthenticationPrincipal SignedIn person,
      @RequestParam(defaultValue = "") String presentPassword,
      @RequestParam(defaultValue = "") String newPassword,
      @RequestParam(defaultValue = "") String repeatedPassword,
      HttpServletRequest request) {
    try {
      if (!newPassword.equals(repeatedPassword)) {
        throw InvalidInputException.of("repeatedPassword", Sentence.of("account.differs"));
      }
      accounts.changePassword(person.getUsername(), presentPassword, newPassword);
    } catch (InvalidInputException e) {
      return refused(person, e, request);
    }
    return new ModelAndView("redirect:/sign-in?changed");
  }

  /** Where the choice was made on another page, {@code back} leads there again. */
  @PostMapping("/preferences")
  String changePreferences(
      @AuthenticationPrincipal SignedIn person,
      @RequestParam @Nullable String language,
      @RequestParam LengthUnit lengthUnit,
      @RequestParam(defaultValue = "/account") String back,
      HttpServletRequest request,
      HttpServletResponse response) {
    String kept = person.language() == null ? "" : person.language().toLanguageTag();
    SignedIn changed = preferences.change(person, language == null ? kept : language, lengthUnit);
    SecurityContext context = SecurityContextHolder.createEmptyContext();
    context.setAuthentication(
        UsernamePasswordAuthenticationToken.authenticated(changed, null, changed.getAuthorities()));
    SecurityContextHolder.setContext(context);
    sessionContexts.saveContext(context, request, response);
    return "redirect:" + (back.matches("/[A-Za-z][^\\\\\\p{Cntrl}]*") ? back : "/account");
  }

  @PostMapping("/tokens")
  ModelAndView addToken(
      @AuthenticationPrincipal SignedIn person,
      @RequestParam(defaultValue = "") String name,
      @RequestParam(defaultValue = "ALL") TokenScope scope,
      @RequestParam(defaultValue = "") String days,
      HttpServletRequest request) {
    NewToken token;
    ShownOnce.mark(request);
    try {
      token = tokens.add(person.getUsername(), name, scope, expiry(days));
    } catch (InvalidInputException e) {
      return refused(person, e, request);
    }
    return new ModelAndView("account/account", contents(person, Map.of(), token.secret(), request));
  }

  @PostMapping("/tokens/{id}/revoke")
  String revoke(@AuthenticationPrincipal SignedIn person, @PathVariable long id) {
    tokens.revoke(person.getUsername(), id);
    return "redirect:/account";
  }

  /** Ends this session too. */
  @PostMapping("/sign-out-everywhere")
  String signOutEverywhere(@AuthenticationPrincipal SignedIn person) {
    accounts.signOutEverywhere(person.getUsername());
    return "redirect:/sign-in?out";
  }

  private @Nullable Instant expiry(String days) {
    if (days.isBlank()) {
      return null;
    }
    if (!days.strip().matches("[1-9]\\d{0,2}")
        || Integer.parseInt(days.strip()) > ApiTokens.LONGEST_LIFE_DAYS) {
      throw InvalidInputException.of(
          "days", Sentence.of("account.daysRange", ApiTokens.LONGEST_LIFE_DAYS));
    }
    return clock.instant().plus(Duration.ofDays(Long.parseLong(days.strip())));
  }

  private ModelAndView refused(
      SignedIn person, InvalidInputException exception, HttpServletRequest request) {
    return new ModelAndView(
        "account/account",
        contents(person, exception.byField(), null, request),
        HttpStatus.BAD_REQUEST);
  }

  private Map<String, Object> contents(
      SignedIn person,
      Map<String, Sentence> errors,
      @Nullable String secret,
      HttpServletRequest request) {
    HttpSession session = request.getSession(false);
    String sessionId = session == null ? "" : session.getId();
    Map<String, Object> contents = new LinkedHashMap<>();
    contents.put("person", person);
    contents.put("roles", person.roles());
    contents.put("tokens", tokens.tokens(person.getUsername()));
    contents.put("scopes", TokenScope.values());
    contents.put("sessions", sessions.open(person.getUsername(), sessionId));
    contents.put("errors", errors);
    contents.put("secret", secret == null ? "" : secret);
    contents.put("now", clock.instant());
    return contents;
  }
}
