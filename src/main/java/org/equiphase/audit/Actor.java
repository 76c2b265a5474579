package org.equiphase.audit;

import org.springframework.security.authentication.AnonymousAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;

/** Who acts now. */
public final class Actor {

  private static final String SYSTEM = "system";

  private Actor() {}

  /** The username of the person signed in, or "system". */
  public static String name() {
    Authentication authentication = SecurityContextHolder.getContext().getAuthentication();
    return authentication == null || authentication instanceof AnonymousAuthenticationToken
        ? SYSTEM
        : authentication.getName();
  }
}
