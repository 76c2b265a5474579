package org.equiphase.account;

import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** The people, for an administrator's programs. */
@RestController
@RequestMapping("/api/v1/people")
class PeopleApi {

  private final Accounts accounts;
  private final ApiTokens tokens;
  private final ProviderAccounts providers;

  PeopleApi(Accounts accounts, ApiTokens tokens, ProviderAccounts providers) {
    this.accounts = accounts;
    this.tokens = tokens;
    this.providers = providers;
  }

  record Password(@Nullable String password) {
    @Override
    public String toString() {
      return "Password[]";
    }
  }

  record ProviderName(@Nullable String providerName) {}

  @GetMapping
  List<Person> people() {
    return accounts.people();
  }

  @GetMapping("/{username}")
  Person person(@PathVariable String username) {
    return accounts.person(username);
  }

  @PostMapping
  @ResponseStatus(HttpStatus.CREATED)
  Person add(@RequestBody NewPerson person) {
    return accounts.add(person);
  }

  @PutMapping("/{username}")
  Person change(@PathVariable String username, @RequestBody PersonChange change) {
    return accounts.change(username, change);
  }

  @PostMapping("/{username}/password")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void resetPassword(@PathVariable String username, @RequestBody Password password) {
    accounts.resetPassword(username, Objects.requireNonNullElse(password.password(), ""));
  }

  /** Ends the person's sessions and revokes their tokens. */
  @PostMapping("/{username}/sign-out-everywhere")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void signOutEverywhere(@PathVariable String username) {
    accounts.signOutEverywhere(username);
    tokens.revokeAll(username);
  }

  /** Which name at the identity provider signs in to the account; none where it is missing. */
  @PutMapping("/{username}/provider")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void connect(@PathVariable String username, @RequestBody ProviderName name) {
    providers.connect(username, Objects.requireNonNullElse(name.providerName(), ""));
  }
}
