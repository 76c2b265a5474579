package org.equiphase.account;

import java.io.Serial;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import org.equiphase.web.LengthUnit;
import org.equiphase.web.Preferences;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.CredentialsContainer;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.authority.SimpleGrantedAuthority;
import org.springframework.security.core.userdetails.UserDetails;

/** The person behind a request, as kept in the session. */
public sealed class SignedIn implements UserDetails, CredentialsContainer, Preferences
    permits ProviderSignedIn {

  @Serial private static final long serialVersionUID = 1;

  private final long personId;
  private final String username;
  private final String displayName;
  private final boolean enabled;
  private final Set<Role> roles;
  private final @Nullable Locale language;
  private final LengthUnit lengthUnit;
  private String passwordHash;

  SignedIn(Person person, String passwordHash, @Nullable Locale language, LengthUnit lengthUnit) {
    this.personId = person.id();
    this.username = person.username();
    this.displayName = person.displayName();
    this.enabled = person.enabled();
    this.roles = person.roles();
    this.passwordHash = passwordHash;
    this.language = language;
    this.lengthUnit = lengthUnit;
  }

  SignedIn(SignedIn before, @Nullable Locale language, LengthUnit lengthUnit) {
    this.personId = before.personId;
    this.username = before.username;
    this.displayName = before.displayName;
    this.enabled = before.enabled;
    this.roles = before.roles;
    this.passwordHash = before.passwordHash;
    this.language = language;
    this.lengthUnit = lengthUnit;
  }

  SignedIn with(@Nullable Locale language, LengthUnit lengthUnit) {
    return new SignedIn(this, language, lengthUnit);
  }

  @Override
  public @Nullable Locale language() {
    return language;
  }

  @Override
  public LengthUnit lengthUnit() {
    // A session that was stored by an older version has none.
    return Objects.requireNonNullElse(lengthUnit, LengthUnit.MM);
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
