package org.equiphase.account;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Base64;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Tokens by which bench scripts sign in as their owner. */
@Service
@Transactional
public class ApiTokens {

  /** A change of the last use within this time is not worth a write. */
  private static final long LAST_USE_RESOLUTION_SECONDS = 60;

  /** How long a token works that nobody gave an end. */
  static final Duration USUAL_LIFE = Duration.ofDays(90);

  static final int LONGEST_LIFE_DAYS = 366;

  private static final String PREFIX = "eqp_";

  private final SecureRandom random = new SecureRandom();
  private final JdbcClient jdbc;
  private final Accounts accounts;
  private final AuditLog audit;
  private final Clock clock;

  ApiTokens(JdbcClient jdbc, Accounts accounts, AuditLog audit, Clock clock) {
    this.jdbc = jdbc;
    this.accounts = accounts;
    this.audit = audit;
    this.clock = clock;
  }

  /** A token without its secret. */
  public record ApiToken(
      long id,
      String name,
      TokenScope scope,
      Instant createdAt,
      @Nullable Instant expiresAt,
      @Nullable Instant revokedAt,
      @Nullable Instant lastUsedAt) {}

  /** A fresh token; the secret is never shown again. */
  public record NewToken(ApiToken token, String secret) {
    @Override
    public String toString() {
      return "NewToken[" + token + "]";
    }
  }

  /** A person's tokens, newest first. */
  @Transactional(readOnly = true)
  public List<ApiToken> tokens(String username) {
    return jdbc.sql(
            """
            select t.id, t.name, t.scope, t.created_at, t.expires_at, t.revoked_at, t.last_used_at
            from api_token t join person p on p.id = t.person_id
            where p.username = :username order by t.id desc
            """)
        .param("username", username)
        .query(
            (row, number) ->
                new ApiToken(
                    row.getLong(1),
                    row.getString(2),
                    TokenScope.valueOf(row.getString(3)),
                    row.getObject(4, OffsetDateTime.class).toInstant(),
                    instant(row.getObject(5, OffsetDateTime.class)),
                    instant(row.getObject(6, OffsetDateTime.class)),
                    instant(row.getObject(7, OffsetDateTime.class))))
        .list();
  }

  /** Makes a token for everything that its owner may. */
  public NewToken add(String username, String name, @Nullable Instant expiresAt) {
    return add(username, name, TokenScope.ALL, expiresAt);
  }

  /**
   * Makes a token.
   *
   * @param expiresAt when it stops working, or null for 90 days from now
   * @throws InvalidInputException if the name is empty, or the time is past or more than a year
   *     away
   */
  public NewToken add(String username, String name, TokenScope scope, @Nullable Instant expiresAt) {
    Instant now = clock.instant();
    Instant end = expiresAt == null ? now.plus(USUAL_LIFE) : expiresAt;
    String label = name.strip();
    if (label.isEmpty() || label.length() > 100) {
      throw InvalidInputException.of("name", Sentence.of("account.nameLength"));
    }
    if (!end.isAfter(now)) {
      throw InvalidInputException.of("expiresAt", Sentence.of("account.inTheFuture"));
    }
    if (end.isAfter(now.plus(Duration.ofDays(LONGEST_LIFE_DAYS)))) {
      throw InvalidInputException.of(
          "expiresAt", Sentence.of("account.withinDays", LONGEST_LIFE_DAYS));
    }
    byte[] bytes = new byte[32];
    random.nextBytes(bytes);
    String secret = PREFIX + Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    String hash = sha256(secret);
    jdbc.sql(
            """
            insert into api_token (person_id, name, scope, token_hash, created_at, expires_at)
            values (:person, :name, :scope, :hash, :now, :expires)
            """)
        .param("person", accounts.person(username).id())
        .param("name", label)
        .param("scope", scope.name())
        .param("hash", hash)
        .param("now", now.atOffset(ZoneOffset.UTC))
        .param("expires", end.atOffset(ZoneOffset.UTC))
        .update();
    audit.record("TOKEN_ADDED", "person", username, Map.of("name", label, "scope", scope.name()));
    return new NewToken(tokens(username).get(0), secret);
  }

  /**
   * Revokes one of a person's tokens.
   *
   * @throws NotFoundException if the person has no such token
   */
  public void revoke(String username, long id) {
    int revoked =
        jdbc.sql(
                """
                update api_token set revoked_at = coalesce(revoked_at, :now)
                where id = :id and person_id = (select id from person where username = :username)
                """)
            .param("now", now())
            .param("id", id)
            .param("username", username)
            .update();
    if (revoked == 0) {
      throw new NotFoundException("token", id);
    }
    audit.record("TOKEN_REVOKED", "person", username, Map.of("token", id));
  }

  /** Revokes all of a person's tokens that are good now; returns how many. */
  public int revokeAll(String username) {
    int revoked =
        jdbc.sql(
                """
                update api_token set revoked_at = :now
                where person_id = :person and revoked_at is null
                """)
            .param("now", now())
            .param("person", accounts.person(username).id())
            .update();
    if (revoked > 0) {
      audit.record("TOKENS_REVOKED", "person", username, Map.of("tokens", revoked));
    }
    return revoked;
  }

  /** Whose token it is, and what it is good for. */
  record Use(SignedIn owner, TokenScope scope) {}

  /** The owner of a token that is good now; its use is noted. */
  Optional<Use> use(String secret) {
    OffsetDateTime now = now();
    String hash = sha256(secret);
    Optional<Use> use =
        find(hash, now)
            .map(found -> new Use(accounts.loadUserByUsername(found.owner()), found.scope()));
    use.ifPresent(
        good ->
            jdbc.sql(
                    """
                    update api_token set last_used_at = :now
                    where token_hash = :hash and (last_used_at is null or last_used_at < :stale)
                    """)
                .param("now", now)
                .param("hash", hash)
                .param("stale", now.minusSeconds(LAST_USE_RESOLUTION_SECONDS))
                .update());
    return use;
  }

  private record Found(String owner, TokenScope scope) {}

  private Optional<Found> find(String hash, OffsetDateTime now) {
    return jdbc.sql(
            """
            select p.username, t.scope from api_token t join person p on p.id = t.person_id
            where t.token_hash = :hash and p.enabled and t.revoked_at is null
              and (t.expires_at is null or t.expires_at > :now)
            """)
        .param("hash", hash)
        .param("now", now)
        .query((row, number) -> new Found(row.getString(1), TokenScope.valueOf(row.getString(2))))
        .optional();
  }

  static String sha256(String text) {
    try {
      byte[] digest =
          MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
      return HexFormat.of().formatHex(digest);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  private OffsetDateTime now() {
    return clock.instant().atOffset(ZoneOffset.UTC);
  }

  private static @Nullable Instant instant(@Nullable OffsetDateTime time) {
    return time == null ? null : time.toInstant();
  }
}
