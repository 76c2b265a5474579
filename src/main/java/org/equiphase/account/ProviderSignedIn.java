package org.equiphase.account;

import java.io.Serial;
import java.util.Map;
import org.springframework.security.oauth2.core.oidc.OidcIdToken;
import org.springframework.security.oauth2.core.oidc.OidcUserInfo;
import org.springframework.security.oauth2.core.oidc.user.OidcUser;

/** Someone whom an identity provider vouches for; roles and name are those of the account here. */
final class ProviderSignedIn extends SignedIn implements OidcUser {

  @Serial private static final long serialVersionUID = 1;

  private final OidcIdToken idToken;

  ProviderSignedIn(SignedIn person, OidcIdToken idToken) {
    super(person, person.language(), person.lengthUnit());
    this.idToken = idToken;
  }

  @Override
  public String getName() {
    return getUsername();
  }

  @Override
  public OidcIdToken getIdToken() {
    return idToken;
  }

  @Override
  public Map<String, Object> getClaims() {
    return idToken.getClaims();
  }

  @Override
  public Map<String, Object> getAttributes() {
    return idToken.getClaims();
  }

  @Override
  public OidcUserInfo getUserInfo() {
    return new OidcUserInfo(idToken.getClaims());
  }
}
