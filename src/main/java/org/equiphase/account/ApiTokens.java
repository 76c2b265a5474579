package org.equiphase.account;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.time.Clock;
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
            select t.id, t.name, t.created_at, t.expires_at, t.revoked_at, t.last_used_at
            from api_token t join person p on p.id = t.person_id
            where p.username = :username order by t.id desc
            """)
        .param("username", username)
        .query(
            (row, number) ->
                new ApiToken(
                    row.getLong(1),
                    row.getString(2),
                    row.getObject(3, OffsetDateTime.class).toInstant(),
                    instant(row.getObject(4, OffsetDateTime.class)),
                    instant(row.getObject(5, OffsetDateTime.class)),
                    instant(row.getObject(6, OffsetDateTime.class))))
        .list();
  }

  /**
   * Makes a token.
   *
   * @param expiresAt when it stops working, or null for never
   * @throws InvalidInputException if the name is empty or the time is past
   */
  public NewToken add(String username, String name, @Nullable Instant expiresAt) {
    String label = name.strip();
    if (label.isEmpty() || label.length() > 100) {
      throw InvalidInputException.of("name", Sentence.of("account.nameLength"));
    }
    if (expiresAt != null && !expiresAt.isAfter(clock.instant())) {
      throw InvalidInputException.of("expiresAt", Sentence.of("account.inTheFuture"));
    }
    byte[] bytes = new byte[32];
    random.nextBytes(bytes);
    String secret = PREFIX + Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    String hash = sha256(secret);
    jdbc.sql(
            """
            insert into api_token (person_id, name, token_hash, created_at, expires_at)
            values (:person, :name, :hash, :now, :expires)
            """)
        .param("person", accounts.person(username).id())
        .param("name", label)
        .param("hash", hash)
        .param("now", now())
        .param(
            "expires",
            expiresAt == null ? null : expiresAt.atOffset(ZoneOffset.UTC),
            java.sql.Types.TIMESTAMP_WITH_TIMEZONE)
        .update();
    audit.record("TOKEN_ADDED", "person", username, Map.of("name", label));
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

  /** The owner of a token that is good now, and notes its use. */
  Optional<SignedIn> use(String secret) {
    OffsetDateTime now = now();
    String hash = sha256(secret);
    Optional<String> owner =
        jdbc.sql(
                """
                select p.username from api_token t join person p on p.id = t.person_id
                where t.token_hash = :hash and p.enabled and t.revoked_at is null
                  and (t.expires_at is null or t.expires_at > :now)
                """)
            .param("hash", hash)
            .param("now", now)
            .query(String.class)
            .optional();
    owner.ifPresent(
        username ->
            jdbc.sql(
                    """
                    update api_token set last_used_at = :now
                    where token_hash = :hash and (last_used_at is null or last_used_at < :stale)
                    """)
                .param("now", now)
                .param("hash", hash)
                .param("stale", now.minusSeconds(LAST_USE_RESOLUTION_SECONDS))
                .update());
    return owner.map(accounts::loadUserByUsername);
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
