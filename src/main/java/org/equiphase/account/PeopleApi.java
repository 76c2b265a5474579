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

  PeopleApi(Accounts accounts) {
    this.accounts = accounts;
  }

  record Password(@Nullable String password) {
    @Override
    public String toString() {
      return "Password[]";
    }
  }

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
}
