package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.audit.AuditLog;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.authentication.DisabledException;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.transaction.PlatformTransactionManager;

@ExtendWith(RunningService.Extension.class)
class AttemptsTest {

  private static final String PASSWORD = "correct horse battery";

  private final RunningService service;
  private final SetClock clock = new SetClock();

  AttemptsTest(RunningService service) {
    this.service = service;
  }

  private static final class SetClock extends Clock {
    private Instant now = Instant.parse("2026-11-30T08:00:00Z");

    @Override
    public Instant instant() {
      return now;
    }

    void advance(Duration time) {
      now = now.plus(time);
    }

    @Override
    public ZoneId getZone() {
      return ZoneOffset.UTC;
    }

    @Override
    public Clock withZone(ZoneId zone) {
      return this;
    }
  }

  private Attempts attempts(int freePerAccount, int freePerAddress) {
    return new Attempts(
        service.bean(JdbcClient.class),
        service.bean(AuditLog.class),
        new SignInSettings(
            freePerAccount, freePerAddress, Duration.ofMinutes(15), Duration.ofHours(12), "name"),
        service.bean(PlatformTransactionManager.class),
        clock);
  }

  /** One deletes the count that the other has just found: neither may be lost to that. */
  @Test
  void signInsOfOneAccountAtOnceSucceedAll() throws Exception {
    Attempts attempts = attempts(10_000, 10_000);
    String name = newName();
    Callable<Void> signIns =
        () -> {
          for (int i = 0; i < 300; i++) {
            attempts.beginFor(name);
            attempts.succeededFor(name);
          }
          return null;
        };
    ExecutorService people = Executors.newFixedThreadPool(4);
    try {
      for (Future<Void> end : people.invokeAll(List.of(signIns, signIns, signIns, signIns))) {
        end.get();
      }
    } finally {
      people.shutdown();
    }
  }

  /** OWASP ASVS 4.0.3, 2.2.1: no more than 100 failed attempts per hour on one account. */
  @Test
  void anAccountCanNotBeTriedMoreThanAHundredTimesAnHour() {
    Attempts attempts = attempts(10, 50);
    String name = newName();
    int tried = 0;
    Instant end = clock.instant().plus(Duration.ofHours(1));
    while (clock.instant().isBefore(end)) {
      try {
        attempts.beginFor(name);
        tried++;
      } catch (TooManyAttemptsException e) {
        clock.advance(Duration.ofSeconds(e.waitSeconds()));
      }
    }
    assertThat(tried).isBetween(11, 100);
  }

  @Test
  void theWaitDoublesUpToTheLongestAndARightPasswordEndsIt() {
    Attempts attempts = attempts(3, 50);
    String name = newName();
    attempts.beginFor(name);
    attempts.beginFor(name);
    List<Long> waits = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      attempts.beginFor(name);
      long wait = waitOf(() -> attempts.beginFor(name));
      waits.add(wait);
      clock.advance(Duration.ofSeconds(wait));
    }
    assertThat(waits).containsExactly(1L, 2L, 4L, 8L, 16L, 32L, 64L, 128L, 256L, 512L, 900L, 900L);

    attempts.succeededFor(name);
    assertThat(waitOf(() -> attempts.beginFor(name))).isZero();
    assertThat(waitOf(() -> attempts.beginFor(name))).isZero();
  }

  @Test
  void aDayWithoutAnAttemptIsForgotten() {
    Attempts attempts = attempts(2, 50);
    String name = newName();
    attempts.beginFor(name);
    attempts.beginFor(name);
    clock.advance(Duration.ofHours(25));
    attempts.beginFor(name);
    assertThat(waitOf(() -> attempts.beginFor(name))).isZero();
  }

  @Test
  void manyAtOnceDoNotPassTogether() throws Exception {
    Attempts attempts = attempts(5, 50);
    String name = newName();
    ExecutorService threads = Executors.newFixedThreadPool(16);
    try {
      List<Callable<Boolean>> tries = new ArrayList<>();
      for (int i = 0; i < 40; i++) {
        tries.add(() -> waitOf(() -> attempts.beginFor(name)) == 0);
      }
      int passed = 0;
      for (Future<Boolean> each : threads.invokeAll(tries)) {
        passed += each.get() ? 1 : 0;
      }
      assertThat(passed).isEqualTo(5);
    } finally {
      threads.shutdownNow();
    }
  }

  @Test
  void anAddressIsSlowedWhicheverAccountsItTries() {
    Attempts attempts = attempts(10, 3);
    String address = "192.0.2." + newName();
    for (int i = 0; i < 3; i++) {
      attempts.checkFrom(address);
      attempts.failedFrom(address);
    }
    assertThat(waitOf(() -> attempts.checkFrom(address))).isEqualTo(1);
    assertThat(waitOf(() -> attempts.checkFrom("192.0.2.77"))).isZero();
    clock.advance(Duration.ofSeconds(1));
    attempts.failedFrom(address);
    assertThat(waitOf(() -> attempts.checkFrom(address))).isEqualTo(2);
  }

  /** Documentation addresses of RFC 3849. */
  @Test
  void anIpv6NetworkCountsAsOneAddress() {
    assertThat(Attempts.network("2001:db8:0:1::1"))
        .isEqualTo(Attempts.network("2001:db8:0:1:ffff:1:2:3"))
        .isNotEqualTo(Attempts.network("2001:db8:0:2::1"));
    assertThat(Attempts.network("192.0.2.1")).isEqualTo("192.0.2.1");
  }

  @Test
  void tooManyWrongPasswordsKeepTheRightOneOutForAWhile() {
    String name = newName();
    add(name);
    for (int i = 0; i < 10; i++) {
      assertThat(status(service.basic(name, "wrong"))).isEqualTo(401);
    }
    letTheWaitLast(name);
    var refused = service.basic(name, PASSWORD).get("/api/v1/account");
    assertThat(refused.statusCode()).isEqualTo(429);
    assertThat(refused.headers().firstValueAsLong("Retry-After").orElse(0)).isPositive();
    PageClient pages = service.pages();
    assertThat(pages.location(pages.signIn(name, PASSWORD))).startsWith("/sign-in?wait=3");
    assertThat(pages.get("/sign-in?wait=36").body()).contains("Wait 36 seconds");

    setFreeAt(name, "current_timestamp - interval '1' hour");
    assertThat(status(service.basic(name, PASSWORD))).isEqualTo(200);
    assertThat(status(service.basic(name, "wrong"))).isEqualTo(401);
    assertThat(
            service.bean(AuditLog.class).entries(null, "account", name, null, 100).stream()
                .map(entry -> entry.action()))
        .containsExactly("SIGN_IN_SLOWED");
  }

  @Test
  void aNameThatNobodyHasIsSlowedTheSame() {
    String name = newName();
    for (int i = 0; i < 10; i++) {
      assertThat(status(service.basic(name, "wrong"))).isEqualTo(401);
    }
    letTheWaitLast(name);
    assertThat(status(service.basic(name, "wrong"))).isEqualTo(429);
  }

  @Test
  void signaturesAndPasswordChangesCountToo() {
    String name = newName();
    add(name);
    PageClient pages = service.pages();
    pages.signIn(name, PASSWORD);
    for (int i = 0; i < 10; i++) {
      assertThat(changePassword(pages, "wrong")).contains("is not your present password");
    }
    letTheWaitLast(name);
    assertThat(changePassword(pages, PASSWORD)).contains("Too many wrong passwords");
  }

  /** What takes no hashing would answer sooner and so tell which accounts there are. */
  @Test
  void aPasswordIsHashedWhoeverIsNamed() {
    String name = newName();
    String disabled = newName();
    add(name);
    add(disabled);
    service.bean(Accounts.class).change(disabled, new PersonChange("X", Set.of(Role.QA), false, 1));
    List<String> hashed = new ArrayList<>();
    PasswordEncoder counting =
        new PasswordEncoder() {
          private final PasswordEncoder real = service.bean(PasswordEncoder.class);

          @Override
          public @Nullable String encode(@Nullable CharSequence password) {
            return real.encode(password);
          }

          @Override
          public boolean matches(@Nullable CharSequence password, @Nullable String hash) {
            hashed.add(String.valueOf(password));
            return real.matches(password, hash);
          }
        };
    PasswordSignIn signIn =
        new PasswordSignIn(service.bean(Accounts.class), counting, attempts(100, 100));

    assertThatThrownBy(() -> signIn.authenticate(token(name, "a")))
        .isInstanceOf(BadCredentialsException.class);
    assertThatThrownBy(() -> signIn.authenticate(token(newName(), "b")))
        .isInstanceOf(BadCredentialsException.class);
    assertThatThrownBy(() -> signIn.authenticate(token("Not a name!", "c")))
        .isInstanceOf(BadCredentialsException.class);
    assertThatThrownBy(() -> signIn.authenticate(token(disabled, "d")))
        .isInstanceOf(DisabledException.class);
    assertThat(hashed).containsExactly("a", "b", "c", "d");
  }

  @Test
  void aCheapHashIsMadeAnewAtSignIn() {
    String name = newName();
    add(name);
    assertThat(hash(name)).startsWith("{bcrypt}$2a$04$");
    PasswordSignIn signIn =
        new PasswordSignIn(
            service.bean(Accounts.class), SecuritySetup.passwordEncoder(6), attempts(100, 100));

    signIn.authenticate(token(name, PASSWORD));

    assertThat(hash(name)).startsWith("{bcrypt}$2a$06$");
    assertThat(status(service.basic(name, PASSWORD))).isEqualTo(200);
  }

  private static UsernamePasswordAuthenticationToken token(String name, String password) {
    return UsernamePasswordAuthenticationToken.unauthenticated(name, password);
  }

  private static long waitOf(Runnable attempt) {
    try {
      attempt.run();
      return 0;
    } catch (TooManyAttemptsException e) {
      return e.waitSeconds();
    }
  }

  private static int status(ApiClient api) {
    return api.get("/api/v1/account").statusCode();
  }

  private static String changePassword(PageClient pages, String present) {
    String wanted = "another password";
    return pages
        .post(
            "/account/password",
            Map.of("presentPassword", present, "newPassword", wanted, "repeatedPassword", wanted))
        .body();
  }

  private void add(String name) {
    service.bean(Accounts.class).add(new NewPerson(name, "Someone", PASSWORD, Set.of(Role.QA)));
  }

  private String hash(String name) {
    return service
        .bean(JdbcClient.class)
        .sql("select password_hash from person where username = ?")
        .param(name)
        .query(String.class)
        .single();
  }

  /** The wait that ten wrong ones have brought is a second, which a busy machine lets pass. */
  private void letTheWaitLast(String name) {
    assertThat(
            service
                .bean(JdbcClient.class)
                .sql(
                    """
                    select count(*) from sign_in_attempt
                    where name = ? and attempts = 10 and free_at > last_at
                    """)
                .param(name)
                .query(Long.class)
                .single())
        .isEqualTo(1);
    setFreeAt(name, "current_timestamp + interval '1' hour");
  }

  private void setFreeAt(String name, String time) {
    service
        .bean(JdbcClient.class)
        .sql("update sign_in_attempt set free_at = " + time + " where name = ?")
        .param(name)
        .update();
  }

  private static String newName() {
    return "p" + UUID.randomUUID().toString().substring(0, 12);
  }
}
