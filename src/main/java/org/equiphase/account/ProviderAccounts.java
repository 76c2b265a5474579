package org.equiphase.account;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.StreamSupport;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.oauth2.client.oidc.userinfo.OidcUserRequest;
import org.springframework.security.oauth2.client.registration.ClientRegistration;
import org.springframework.security.oauth2.client.registration.ClientRegistrationRepository;
import org.springframework.security.oauth2.client.userinfo.OAuth2UserRequest;
import org.springframework.security.oauth2.client.userinfo.OAuth2UserService;
import org.springframework.security.oauth2.core.OAuth2AuthenticationException;
import org.springframework.security.oauth2.core.oidc.OidcIdToken;
import org.springframework.security.oauth2.core.oidc.user.OidcUser;
import org.springframework.security.oauth2.core.user.OAuth2User;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Which account an identity provider's user signs in to: the one for which an administrator entered
 * the user's name there. The first sign-in ties the account to the provider's own id of the user,
 * so that whoever gets the name later does not get the account.
 */
@Service
class ProviderAccounts implements OAuth2UserService<OidcUserRequest, OidcUser> {

  private static final int LONGEST_NAME = 200;
  private static final int LONGEST_SUBJECT = 600;

  private final JdbcClient jdbc;
  private final Accounts accounts;
  private final AuditLog audit;
  private final Sessions sessions;
  private final SignInSettings settings;
  private final ObjectProvider<ClientRegistrationRepository> registrations;

  ProviderAccounts(
      JdbcClient jdbc,
      Accounts accounts,
      AuditLog audit,
      Sessions sessions,
      SignInSettings settings,
      ObjectProvider<ClientRegistrationRepository> registrations) {
    this.jdbc = jdbc;
    this.accounts = accounts;
    this.audit = audit;
    this.sessions = sessions;
    this.settings = settings;
    this.registrations = registrations;
  }

  /** A provider that the sign-in page offers. */
  record Provider(String registrationId, String name) {}

  /** The providers that are set up; usually none. */
  List<Provider> providers() {
    return registrations.getIfAvailable() instanceof Iterable<?> all
        ? StreamSupport.stream(all.spliterator(), false)
            .map(ClientRegistration.class::cast)
            .map(each -> new Provider(each.getRegistrationId(), each.getClientName()))
            .toList()
        : List.of();
  }

  /** The name under which a provider knows the person; empty where it does not. */
  @Transactional(readOnly = true)
  String nameOf(String username) {
    return jdbc.sql("select coalesce(provider_name, '') from person where id = ?")
        .param(accounts.person(username).id())
        .query(String.class)
        .single();
  }

  /**
   * Lets the provider's user of this name sign in to the account, and nobody else any more; empty
   * for nobody.
   *
   * @throws InvalidInputException if the name is too long, or another account has it
   */
  @Transactional
  void connect(String username, String providerName) {
    Person person = accounts.person(username);
    String name = providerName.strip();
    if (name.length() > LONGEST_NAME) {
      throw InvalidInputException.of(
          "providerName", Sentence.of("problem.textTooLong", name.length(), LONGEST_NAME));
    }
    if (!name.isEmpty() && withName(name).filter(id -> id != person.id()).isPresent()) {
      throw InvalidInputException.of("providerName", Sentence.of("account.providerNameTaken"));
    }
    jdbc.sql("update person set provider_name = :name, provider_subject = null where id = :id")
        .param("name", name.isEmpty() ? null : name)
        .param("id", person.id())
        .update();
    audit.record("PROVIDER_NAME_SET", "person", person.username(), Map.of("providerName", name));
    sessions.endAfterCommit(person.username());
  }

  @Override
  @Transactional
  public OidcUser loadUser(OidcUserRequest request) {
    OidcIdToken token = request.getIdToken();
    String subject = token.getIssuer() + " " + token.getSubject();
    if (subject.length() > LONGEST_SUBJECT) {
      throw stranger();
    }
    String username =
        withSubject(subject)
            .or(() -> tie(token.getClaimAsString(settings.providerNameClaim()), subject))
            .orElseThrow(ProviderAccounts::stranger);
    SignedIn person = accounts.loadUserByUsername(username);
    if (!person.isEnabled()) {
      throw stranger();
    }
    person.eraseCredentials();
    return new ProviderSignedIn(person, token);
  }

  /** Plain OAuth 2.0 does not say who signs in. */
  static OAuth2User refuseWithoutOpenId(OAuth2UserRequest request) {
    throw new OAuth2AuthenticationException("openid_scope_needed");
  }

  private static OAuth2AuthenticationException stranger() {
    return new OAuth2AuthenticationException("no_account");
  }

  private Optional<String> withSubject(String subject) {
    return jdbc.sql("select username from person where provider_subject = ?")
        .param(subject)
        .query(String.class)
        .optional();
  }

  private Optional<Long> withName(String name) {
    return jdbc.sql("select id from person where provider_name = ?")
        .param(name)
        .query(Long.class)
        .optional();
  }

  private Optional<String> tie(@Nullable String name, String subject) {
    if (name == null || name.isBlank() || name.length() > LONGEST_NAME) {
      return Optional.empty();
    }
    Optional<String> username =
        jdbc.sql(
                """
                select username from person
                where provider_name = ? and provider_subject is null and enabled
                """)
            .param(name.strip())
            .query(String.class)
            .optional();
    username.ifPresent(
        found -> {
          jdbc.sql("update person set provider_subject = ? where username = ?")
              .params(subject, found)
              .update();
          audit.record("PROVIDER_TIED", "person", found, Map.of("subject", subject));
        });
    return username;
  }
}
