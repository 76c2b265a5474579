package org.equiphase.account;

import java.util.Set;

/**
 * Someone with an account.
 *
 * @param username what they sign in with; lower case, never reused
 * @param version rises with each change; a change must name the version it was made from
 */
public record Person(
    long id, String username, String displayName, boolean enabled, Set<Role> roles, long version) {

  public Person {
    roles = Set.copyOf(roles);
  }

  public boolean has(Role role) {
    return roles.contains(role);
  }
}
