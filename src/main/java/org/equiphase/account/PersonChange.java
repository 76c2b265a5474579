package org.equiphase.account;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;

/**
 * What an administrator may change of an account.
 *
 * @param version the version that the change was made from
 */
public record PersonChange(String displayName, Set<Role> roles, boolean enabled, long version) {

  public PersonChange(
      @Nullable String displayName, @Nullable Set<Role> roles, boolean enabled, long version) {
    this.displayName = Objects.requireNonNullElse(displayName, "").strip();
    this.roles = Set.copyOf(Objects.requireNonNullElse(roles, Set.of()));
    this.enabled = enabled;
    this.version = version;
  }

  void check() {
    List<FieldProblem> problems = new ArrayList<>();
    NewPerson.checkDisplayName(displayName, problems);
    NewPerson.checkRoles(roles, problems);
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }
}
