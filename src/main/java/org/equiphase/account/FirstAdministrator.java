package org.equiphase.account;

import java.security.SecureRandom;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.Set;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Lets the one who sees the console make the first account: as long as there is none, each start
 * prints a new one-time code and the earlier one stops working.
 */
@Service
@Transactional
class FirstAdministrator {

  /** Without letters and digits that look alike. */
  private static final String ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

  private static final int CODE_LENGTH = 20;

  private final JdbcClient jdbc;
  private final Accounts accounts;
  private final Clock clock;

  FirstAdministrator(JdbcClient jdbc, Accounts accounts, Clock clock) {
    this.jdbc = jdbc;
    this.accounts = accounts;
    this.clock = clock;
  }

  @EventListener
  public void started(ApplicationReadyEvent ready) {
    if (accounts.isEmpty()) {
      System.out.printf(
          """

          There are no accounts yet. Open /setup and enter this one-time code to add the first
          administrator: %s

          """,
          newCode());
    }
  }

  boolean isNeeded() {
    return accounts.isEmpty();
  }

  String newCode() {
    SecureRandom random = new SecureRandom();
    StringBuilder code = new StringBuilder();
    for (int i = 0; i < CODE_LENGTH; i++) {
      code.append(ALPHABET.charAt(random.nextInt(ALPHABET.length())));
    }
    // Instances that start together may both come here; the code of whichever is last counts.
    jdbc.sql(
            """
            insert into setup_code (id, code_hash, created_at) values (1, '', :now)
            on conflict do nothing
            """)
        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
        .update();
    jdbc.sql("update setup_code set code_hash = :hash, created_at = :now where id = 1")
        .param("hash", ApiTokens.sha256(code.toString()))
        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
        .update();
    return code.toString();
  }

  /**
   * Adds the first administrator and uses up the code.
   *
   * @throws InvalidInputException if the code is not the last one printed, or a field is bad
   */
  void add(
      String code,
      @Nullable String username,
      @Nullable String displayName,
      @Nullable String password) {
    int used =
        jdbc.sql("delete from setup_code where code_hash = ?")
            .param(ApiTokens.sha256(code.strip()))
            .update();
    if (used == 0) {
      throw InvalidInputException.of("code", Sentence.of("account.wrongCode"));
    }
    accounts.add(new NewPerson(username, displayName, password, Set.of(Role.ADMINISTRATOR)));
  }
}
