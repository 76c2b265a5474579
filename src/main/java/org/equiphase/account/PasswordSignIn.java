package org.equiphase.account;

import org.springframework.dao.DataAccessException;
import org.springframework.security.authentication.AuthenticationProvider;
import org.springframework.security.authentication.InternalAuthenticationServiceException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.authentication.dao.DaoAuthenticationProvider;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.web.authentication.WebAuthenticationDetails;
import org.springframework.stereotype.Component;
import org.springframework.transaction.TransactionException;

/** Sign-in by password, by page or by HTTP Basic; a name that nobody has is counted the same. */
@Component
class PasswordSignIn implements AuthenticationProvider {

  private final DaoAuthenticationProvider passwords;
  private final Attempts attempts;

  PasswordSignIn(Accounts accounts, PasswordEncoder encoder, Attempts attempts) {
    this.passwords = new DaoAuthenticationProvider(accounts);
    passwords.setPasswordEncoder(encoder);
    passwords.setUserDetailsPasswordService(accounts);
    // Hashes for a disabled account too, so that the time it takes tells nothing.
    passwords.setAlwaysPerformAdditionalChecksOnUser(true);
    this.attempts = attempts;
  }

  @Override
  public Authentication authenticate(Authentication authentication) {
    String username = Accounts.normalized(authentication.getName());
    String address =
        authentication.getDetails() instanceof WebAuthenticationDetails details
            ? String.valueOf(details.getRemoteAddress())
            : "";
    Authentication signedIn;
    try {
      attempts.checkFrom(address);
      if (NewPerson.isUsername(username)) {
        attempts.beginFor(username);
      }
    } catch (DataAccessException | TransactionException e) {
      throw new InternalAuthenticationServiceException("attempts", e);
    }
    try {
      signedIn = passwords.authenticate(authentication);
    } catch (InternalAuthenticationServiceException e) {
      throw e;
    } catch (AuthenticationException e) {
      attempts.failedFrom(address);
      throw e;
    }
    attempts.succeededFor(username);
    return signedIn;
  }

  @Override
  public boolean supports(Class<?> authentication) {
    return UsernamePasswordAuthenticationToken.class.isAssignableFrom(authentication);
  }
}
