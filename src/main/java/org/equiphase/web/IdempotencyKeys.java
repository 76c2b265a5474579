package org.equiphase.web;

import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** The answers given to writes, by person and key. */
@Component
class IdempotencyKeys {

  private static final int KEPT_DAYS = 30;

  private final JdbcClient jdbc;
  private final Clock clock;

  IdempotencyKeys(JdbcClient jdbc, Clock clock) {
    this.jdbc = jdbc;
    this.clock = clock;
  }

  /** An answer that was given before. */
  record Answer(String fingerprint, int status, Map<String, String> headers, byte[] body) {}

  /**
   * Takes a key for the present transaction. Where another transaction holds the key, this waits
   * for its end.
   *
   * @return whether the key was free
   */
  boolean claim(String person, String key, String fingerprint) {
    return jdbc.sql(
                """
                insert into idempotency_key (person, request_key, fingerprint, created_at)
                values (:person, :key, :fingerprint, :now)
                on conflict do nothing
                """)
            .param("person", person)
            .param("key", key)
            .param("fingerprint", fingerprint)
            .param("now", now())
            .update()
        == 1;
  }

  Optional<Answer> find(String person, String key) {
    return jdbc.sql(
            """
            select fingerprint, status, headers, body from idempotency_key
            where person = :person and request_key = :key and status is not null
            """)
        .param("person", person)
        .param("key", key)
        .query(
            (row, number) ->
                new Answer(
                    row.getString(1), row.getInt(2), headers(row.getString(3)), row.getBytes(4)))
        .optional();
  }

  void complete(String person, String key, int status, Map<String, String> headers, byte[] body) {
    StringBuilder lines = new StringBuilder();
    headers.forEach((name, value) -> lines.append(name).append(": ").append(value).append('\n'));
    jdbc.sql(
            """
            update idempotency_key set status = :status, headers = :headers, body = :body
            where person = :person and request_key = :key
            """)
        .param("status", status)
        .param("headers", lines.toString())
        .param("body", body)
        .param("person", person)
        .param("key", key)
        .update();
  }

  /** Forgets old keys; a sender that repeats itself does so within minutes. */
  @Scheduled(cron = "0 17 3 * * *")
  void purge() {
    jdbc.sql("delete from idempotency_key where created_at < ?")
        .param(now().minusDays(KEPT_DAYS))
        .update();
  }

  private static Map<String, String> headers(String lines) {
    Map<String, String> headers = new LinkedHashMap<>();
    lines
        .lines()
        .forEach(
            line -> {
              int colon = line.indexOf(": ");
              headers.put(line.substring(0, colon), line.substring(colon + 2));
            });
    return headers;
  }

  private OffsetDateTime now() {
    return clock.instant().atOffset(ZoneOffset.UTC);
  }
}
