package org.equiphase.account;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;
import org.equiphase.audit.AuditLog;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Counts attempts at passwords. After the free ones each further attempt costs a wait, which
 * doubles from a second on. Each count is a transaction of its own, since that of a refused request
 * is rolled back.
 */
@Component
class Attempts {

  private static final String ACCOUNT = "account";
  private static final String ADDRESS = "address";

  /**
   * An account's count outlives the night; many people share one address, so its count does not.
   */
  private static final Duration ACCOUNT_MEMORY = Duration.ofHours(24);

  private static final Duration ADDRESS_MEMORY = Duration.ofMinutes(30);

  /** A network that one holder of IPv6 addresses is usually given (RFC 6177: /64 at the least). */
  private static final int IPV6_NETWORK_BYTES = 8;

  private final JdbcClient jdbc;
  private final AuditLog audit;
  private final SignInSettings settings;
  private final TransactionTemplate ownTransaction;
  private final Clock clock;

  Attempts(
      JdbcClient jdbc,
      AuditLog audit,
      SignInSettings settings,
      PlatformTransactionManager transactions,
      Clock clock) {
    this.jdbc = jdbc;
    this.audit = audit;
    this.settings = settings;
    this.ownTransaction = new TransactionTemplate(transactions);
    ownTransaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    this.clock = clock;
  }

  /**
   * Counts an attempt at an account before the password is looked at, so that many at once can't
   * pass before the first of them has failed.
   *
   * @throws TooManyAttemptsException if the account's wait is not over
   */
  void beginFor(String username) {
    count(ACCOUNT, username, settings.freePerAccount(), ACCOUNT_MEMORY);
  }

  /** The password was right: the account starts anew. */
  void succeededFor(String username) {
    ownTransaction.executeWithoutResult(
        status ->
            jdbc.sql("delete from sign_in_attempt where counted_by = ? and name = ?")
                .params(ACCOUNT, username)
                .update());
  }

  /**
   * Lets an address through, or not.
   *
   * @throws TooManyAttemptsException if the address's wait is not over
   */
  void checkFrom(String address) {
    OffsetDateTime now = now();
    jdbc.sql("select free_at from sign_in_attempt where counted_by = ? and name = ?")
        .params(ADDRESS, network(address))
        .query(OffsetDateTime.class)
        .optional()
        .ifPresent(freeAt -> refuseBefore(freeAt, now));
  }

  /** Something wrong came from this address. A right password elsewhere does not make it good. */
  void failedFrom(String address) {
    try {
      count(ADDRESS, network(address), settings.freePerAddress(), ADDRESS_MEMORY);
    } catch (TooManyAttemptsException e) {
      // It came in beside the one that began the wait, which holds for the next.
    }
  }

  private void count(String by, String name, int free, Duration memory) {
    ownTransaction.executeWithoutResult(
        status -> {
          OffsetDateTime now = now();
          Count before = lock(by, name, now);
          refuseBefore(before.freeAt(), now);
          int attempts = before.lastAt().isBefore(now.minus(memory)) ? 1 : before.attempts() + 1;
          jdbc.sql(
                  """
                  update sign_in_attempt set attempts = :attempts, last_at = :now, free_at = :free
                  where counted_by = :by and name = :name
                  """)
              .param("attempts", attempts)
              .param("now", now)
              .param("free", now.plus(waitAfter(attempts, free)))
              .param("by", by)
              .param("name", name)
              .update();
          if (attempts == free) {
            audit.record("SIGN_IN_SLOWED", by, name, Map.of("attempts", attempts));
          }
        });
  }

  /** Tries again where a sign-in that succeeded meanwhile has taken the count away. */
  private Count lock(String by, String name, OffsetDateTime now) {
    Optional<Count> count = Optional.empty();
    while (count.isEmpty()) {
      jdbc.sql(
              """
              insert into sign_in_attempt (counted_by, name, attempts, last_at, free_at)
              values (:by, :name, 0, :now, :now) on conflict do nothing
              """)
          .param("by", by)
          .param("name", name)
          .param("now", now)
          .update();
      count =
          jdbc.sql(
                  """
                  select attempts, last_at, free_at from sign_in_attempt
                  where counted_by = ? and name = ? for update
                  """)
              .params(by, name)
              .query(
                  (row, number) ->
                      new Count(
                          row.getInt(1),
                          row.getObject(2, OffsetDateTime.class),
                          row.getObject(3, OffsetDateTime.class)))
              .optional();
    }
    return count.get();
  }

  private record Count(int attempts, OffsetDateTime lastAt, OffsetDateTime freeAt) {}

  private Duration waitAfter(int attempts, int free) {
    if (attempts < free) {
      return Duration.ZERO;
    }
    Duration doubled = Duration.ofSeconds(1L << Math.min(attempts - free, 30));
    return doubled.compareTo(settings.longestWait()) < 0 ? doubled : settings.longestWait();
  }

  private static void refuseBefore(OffsetDateTime freeAt, OffsetDateTime now) {
    if (freeAt.isAfter(now)) {
      throw new TooManyAttemptsException(Duration.between(now, freeAt));
    }
  }

  /** The address itself, or the network of an IPv6 address, whose holder has all of it. */
  static String network(String address) {
    if (!address.contains(":")) {
      return address;
    }
    try {
      byte[] bytes = InetAddress.getByName(address).getAddress();
      return bytes.length <= IPV6_NETWORK_BYTES
          ? address
          : HexFormat.of().formatHex(Arrays.copyOf(bytes, IPV6_NETWORK_BYTES)) + "/64";
    } catch (UnknownHostException e) {
      return address;
    }
  }

  @Scheduled(cron = "0 23 3 * * *")
  void forget() {
    jdbc.sql("delete from sign_in_attempt where last_at < ?")
        .param(now().minus(ACCOUNT_MEMORY))
        .update();
  }

  /** As exact as the database keeps it: a time that it rounded up would be still to come. */
  private OffsetDateTime now() {
    return clock.instant().truncatedTo(ChronoUnit.MICROS).atOffset(ZoneOffset.UTC);
  }
}
