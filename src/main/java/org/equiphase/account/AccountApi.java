package org.equiphase.account;

import jakarta.servlet.http.HttpServletRequest;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import org.equiphase.account.ApiTokens.ApiToken;
import org.equiphase.account.ApiTokens.NewToken;
import org.equiphase.web.ShownOnce;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** One's own account, for programs. */
@RestController
@RequestMapping("/api/v1/account")
class AccountApi {

  private final Accounts accounts;
  private final ApiTokens tokens;

  AccountApi(Accounts accounts, ApiTokens tokens) {
    this.accounts = accounts;
    this.tokens = tokens;
  }

  record PasswordChange(@Nullable String presentPassword, @Nullable String newPassword) {
    @Override
    public String toString() {
      return "PasswordChange[]";
    }
  }

  record TokenRequest(
      @Nullable String name, @Nullable TokenScope scope, @Nullable Instant expiresAt) {}

  @GetMapping
  Person self(@AuthenticationPrincipal SignedIn person) {
    return accounts.person(person.getUsername());
  }

  @PostMapping("/password")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void changePassword(
      @AuthenticationPrincipal SignedIn person, @RequestBody PasswordChange change) {
    accounts.changePassword(
        person.getUsername(),
        Objects.requireNonNullElse(change.presentPassword(), ""),
        Objects.requireNonNullElse(change.newPassword(), ""));
  }

  @GetMapping("/tokens")
  List<ApiToken> tokens(@AuthenticationPrincipal SignedIn person) {
    return tokens.tokens(person.getUsername());
  }

  /** Makes a token; its secret is in this answer only. */
  @PostMapping("/tokens")
  @ResponseStatus(HttpStatus.CREATED)
  NewToken addToken(
      @AuthenticationPrincipal SignedIn person,
      @RequestBody TokenRequest wanted,
      HttpServletRequest request) {
    ShownOnce.mark(request);
    return tokens.add(
        person.getUsername(),
        Objects.requireNonNullElse(wanted.name(), ""),
        Objects.requireNonNullElse(wanted.scope(), TokenScope.ALL),
        wanted.expiresAt());
  }

  /** Ends all sessions of the pages; tokens go on working. */
  @PostMapping("/sign-out-everywhere")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void signOutEverywhere(@AuthenticationPrincipal SignedIn person) {
    accounts.signOutEverywhere(person.getUsername());
  }

  @DeleteMapping("/tokens/{id}")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void revokeToken(@AuthenticationPrincipal SignedIn person, @PathVariable long id) {
    tokens.revoke(person.getUsername(), id);
  }
}
