package org.equiphase.account;

import java.nio.charset.StandardCharsets;
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

  static final int SHORTEST_PASSWORD = 12;

  /** What bcrypt takes in; it would ignore the rest. */
  private static final int LONGEST_PASSWORD_BYTES = 72;

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
    if (!username.matches("[a-z][a-z0-9._-]{1,49}")) {
      problems.add(new FieldProblem("username", Sentence.of("account.usernameRule")));
    }
    checkDisplayName(displayName, problems);
    checkRoles(roles, problems);
    passwordProblem("password", password, problems);
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
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

  static void checkPassword(String field, String password) {
    List<FieldProblem> problems = new ArrayList<>();
    passwordProblem(field, password, problems);
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }

  private static void passwordProblem(String field, String password, List<FieldProblem> problems) {
    if (password.length() < SHORTEST_PASSWORD) {
      problems.add(
          new FieldProblem(field, Sentence.of("account.passwordTooShort", SHORTEST_PASSWORD)));
    } else if (password.getBytes(StandardCharsets.UTF_8).length > LONGEST_PASSWORD_BYTES) {
      problems.add(
          new FieldProblem(field, Sentence.of("account.passwordTooLong", LONGEST_PASSWORD_BYTES)));
    }
  }

  @Override
  public String toString() {
    return "NewPerson[username=" + username + "]";
  }
}
