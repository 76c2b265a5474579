package org.equiphase.account;

import java.io.Serial;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import org.springframework.security.core.CredentialsContainer;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.SimpleGrantedAuthority;
import org.springframework.security.core.userdetails.UserDetails;

/** The person behind a request, as kept in the session. */
public final class SignedIn implements UserDetails, CredentialsContainer {

  @Serial private static final long serialVersionUID = 1;

  private final long personId;
  private final String username;
  private final String displayName;
  private final boolean enabled;
  private final Set<Role> roles;
  private String passwordHash;

  SignedIn(Person person, String passwordHash) {
    this.personId = person.id();
    this.username = person.username();
    this.displayName = person.displayName();
    this.enabled = person.enabled();
    this.roles = person.roles();
    this.passwordHash = passwordHash;
  }

  public long personId() {
    return personId;
  }

  public String getDisplayName() {
    return displayName;
  }

  public boolean has(Role role) {
    return roles.contains(role);
  }

  @Override
  public Collection<? extends GrantedAuthority> getAuthorities() {
    return roles.stream().map(role -> new SimpleGrantedAuthority("ROLE_" + role)).toList();
  }

  List<Role> roles() {
    return roles.stream().sorted().toList();
  }

  @Override
  public String getUsername() {
    return username;
  }

  @Override
  public String getPassword() {
    return passwordHash;
  }

  @Override
  public boolean isEnabled() {
    return enabled;
  }

  @Override
  public void eraseCredentials() {
    passwordHash = "";
  }
}
