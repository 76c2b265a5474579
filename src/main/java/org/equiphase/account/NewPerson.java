package org.equiphase.account;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** An account to be made; missing texts count as empty. */
public record NewPerson(String username, String displayName, String password, Set<Role> roles) {

  public NewPerson(
      @Nullable String username,
      @Nullable String displayName,
      @Nullable String password,
      @Nullable Set<Role> roles) {
    this.username = Objects.requireNonNullElse(username, "").strip();
    this.displayName = Objects.requireNonNullElse(displayName, "").strip();
    this.password = Objects.requireNonNullElse(password, "");
    this.roles = Set.copyOf(Objects.requireNonNullElse(roles, Set.of()));
  }

  void check() {
    List<FieldProblem> problems = new ArrayList<>();
    if (!isUsername(username)) {
      problems.add(new FieldProblem("username", Sentence.of("account.usernameRule")));
    }
    checkDisplayName(displayName, problems);
    checkRoles(roles, problems);
    PasswordRules.check("password", password, problems, username, displayName);
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }

  static boolean isUsername(String text) {
    return text.matches("[a-z][a-z0-9._-]{1,49}");
  }

  static void checkDisplayName(String displayName, List<FieldProblem> problems) {
    if (displayName.isEmpty() || displayName.length() > 100) {
      problems.add(new FieldProblem("displayName", Sentence.of("account.nameLength")));
    }
  }

  static void checkRoles(Set<Role> roles, List<FieldProblem> problems) {
    if (roles.isEmpty()) {
      problems.add(new FieldProblem("roles", Sentence.of("account.chooseRole")));
    }
  }

  @Override
  public String toString() {
    return "NewPerson[username=" + username + "]";
  }
}
