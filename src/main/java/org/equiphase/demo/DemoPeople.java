package org.equiphase.demo;

import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.context.SecurityContext;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.core.userdetails.UserDetails;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.stereotype.Component;

/** Lets the people of the demo shop do things while it is loaded. */
@Component
@ConditionalOnProperty("equiphase.demo-data")
class DemoPeople {

  private final UserDetailsService people;

  DemoPeople(UserDetailsService people) {
    this.people = people;
  }

  void as(String username, Runnable work) {
    UserDetails person = people.loadUserByUsername(username);
    SecurityContext context = SecurityContextHolder.createEmptyContext();
    context.setAuthentication(
        UsernamePasswordAuthenticationToken.authenticated(person, null, person.getAuthorities()));
    SecurityContextHolder.setContext(context);
    try {
      work.run();
    } finally {
      SecurityContextHolder.clearContext();
    }
  }
}
