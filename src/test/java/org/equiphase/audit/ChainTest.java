package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import tools.jackson.databind.JsonNode;

/** Entries changed past the service are found and named; each test mends what it broke. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ChainTest {

  private static final String ALL_BUT_ID =
      "at, actor, action, subject_type, subject_key, details, previous_hash, hash";

  private RunningService service;
  private TamperedShop tampered;
  private long first;

  @BeforeAll
  void start() throws InterruptedException {
    service = RunningService.start("equiphase.demo-accounts=true");
    StartChecks.await(service);
    tampered = new TamperedShop(service);
  }

  @BeforeEach
  void backUp() {
    first = tampered.addThree();
    tampered.jdbc.sql("drop table if exists backup_entry").update();
    tampered.jdbc.sql("drop table if exists backup_head").update();
    tampered.jdbc.sql("create table backup_entry as select * from audit_entry").update();
    tampered.jdbc.sql("create table backup_head as select * from audit_head").update();
  }

  @AfterEach
  void mend() {
    tampered.jdbc.sql("delete from audit_entry").update();
    tampered.jdbc.sql("insert into audit_entry select * from backup_entry").update();
    tampered.jdbc.sql("delete from audit_head").update();
    tampered.jdbc.sql("insert into audit_head select * from backup_head").update();
    assertThat(tampered.faults()).isEmpty();
  }

  @AfterAll
  void stop() {
    service.close();
  }

  @Test
  void changedDetails() {
    tampered.sql("update audit_entry set details = '{\"value\":7}' where id = ?", first + 1);

    assertThat(tampered.faults()).containsExactly(at("CHANGED", first + 1));
    JsonNode link = tampered.check().get("links").get(0);
    assertThat(link.get("entry").get("action").asString()).isEqualTo("TESTED");
    assertThat(link.get("entry").get("actor").asString()).isEqualTo("system");
    assertThat(link.get("before").get("id").asLong()).isEqualTo(first);
    assertThat(link.get("after").get("id").asLong()).isEqualTo(first + 2);
    assertThat(tampered.check().get("firstBroken").asLong()).isEqualTo(first + 1);
    assertThat(tampered.check().get("goodEntries").asLong()).isEqualTo(first);
    assertThat(service.pages(Role.QA).get("/audit/chain").body())
        .contains("Entry " + (first + 1) + " was changed: its hash is not that of its content.");
    assertThat(service.pages(Role.QA).get("/audit").body())
        .contains("The database was tampered with.", "Entry " + (first + 1) + " was changed");
  }

  @Test
  void anyOtherColumn() {
    for (String change :
        new String[] {
          "actor = 'someone'",
          "at = at + interval '1' second",
          "action = 'OTHER'",
          "subject_type = 'other'",
          "subject_key = 'other'",
          "previous_hash = hash",
          "hash = previous_hash"
        }) {
      tampered.sql("update audit_entry set " + change + " where id = ?", first + 1);
      assertThat(tampered.faults()).as(change).containsExactly(at("CHANGED", first + 1));
      mend();
    }
  }

  @Test
  void detailsThatAreNoJsonAnyMoreAreStillShown() {
    tampered.sql("update audit_entry set details = '{broken' where id = ?", first + 1);

    assertThat(tampered.faults()).containsExactly(at("CHANGED", first + 1));
    assertThat(service.pages(Role.QA).get("/audit?subjectType=test").body()).contains("{broken");
    assertThat(tampered.shop.qa.get("/api/v1/audit?subjectType=test").body())
        .contains("\"details\":\"{broken\"");
  }

  @Test
  void aRemovedEntry() {
    tampered.sql("delete from audit_entry where id = ?", first + 1);

    assertThat(tampered.faults()).containsExactly(at("REMOVED", first + 1));
    assertThat(service.pages(Role.QA).get("/audit/chain").body())
        .contains("Entry " + (first + 1) + " was removed.");
  }

  @Test
  void aRemovedStart() {
    tampered.sql("delete from audit_entry where id <= 2");

    assertThat(tampered.faults()).contains("REMOVED 1-2");
  }

  @Test
  void aRemovedReadingsEntryIsNamedWithTheReadingNobodyTellsOf() {
    long entry =
        Long.parseLong(
            tampered.text(
                "select max(id) from audit_entry where action = 'READING_RECORDED' "
                    + "and subject_key = ?",
                tampered.tooLong));
    tampered.sql("delete from audit_entry where id = ?", entry);

    assertThat(tampered.faults())
        .containsExactly(at("REMOVED", entry), "ADDED reading " + tampered.readingId);
  }

  @Test
  void aCutOffEnd() {
    tampered.sql("delete from audit_entry where id > ?", first);

    assertThat(tampered.faults()).containsExactly("CUT_OFF " + (first + 1) + "-" + (first + 2));
  }

  @Test
  void twoExchangedEntries() {
    tampered.sql("update audit_entry set id = -1 where id = ?", first);
    tampered.sql("update audit_entry set id = ? where id = ?", first, first + 2);
    tampered.sql("update audit_entry set id = ? where id = -1", first + 2);

    assertThat(tampered.faults()).containsExactly(at("MOVED", first), at("MOVED", first + 2));
    assertThat(tampered.check().get("links").get(0).get("what").asString())
        .isEqualTo(
            "Entry "
                + first
                + " was changed: it holds what was written as entry "
                + (first + 2)
                + ".");
  }

  @Test
  void anEntryRewrittenTogetherWithItsHash() {
    rewrite(first + 1);
    assertThat(tampered.faults()).containsExactly(at("REWRITTEN", first + 1));
    mend();

    rewrite(first + 2);
    assertThat(tampered.faults()).containsExactly(at("END_DIFFERS", first + 2));
  }

  @Test
  void anEntryAfterTheEndOrBeforeTheStart() {
    tampered.sql(
        "insert into audit_entry (id, %1$s) select ?, %1$s from audit_entry where id = ?"
            .formatted(ALL_BUT_ID),
        first + 3,
        first);
    assertThat(tampered.faults()).containsExactly(at("ADDED", first + 3));
    mend();

    tampered.sql(
        "insert into audit_entry (id, %1$s) select 0, %1$s from audit_entry where id = ?"
            .formatted(ALL_BUT_ID),
        first);
    assertThat(tampered.faults()).containsExactly(at("ADDED", 0));
  }

  @Test
  void theEndThatIsKeptApart() {
    tampered.sql("update audit_head set last_hash = ?", "f".repeat(64));
    assertThat(tampered.faults()).containsExactly(at("END_DIFFERS", first + 2));
    mend();

    tampered.sql("delete from audit_head");
    assertThat(tampered.faults()).containsExactly(at("END_GONE", first + 3));
  }

  /** What the check cannot see: the remedy is the hash of the end, kept elsewhere. */
  @Test
  void aChainRebuiltFromAnEntryOnShowsOnlyAgainstACopyOfItsEnd() {
    ChainEnd before = service.bean(AuditLog.class).end();
    rewrite(first + 2);
    tampered.sql(
        "update audit_head set last_hash = (select hash from audit_entry where id = ?)", first + 2);

    assertThat(tampered.faults()).isEmpty();
    ChainEnd after = service.bean(AuditLog.class).end();
    assertThat(after.id()).isEqualTo(before.id());
    assertThat(after.hash()).isNotEqualTo(before.hash());
  }

  private void rewrite(long id) {
    AuditEntry old = service.bean(AuditEntries.class).entry(id).orElseThrow();
    AuditEntry forged =
        AuditEntry.chained(
            id, old.at(), "someone", "TESTED", "test", "subject", "{}", old.previousHash());
    tampered.sql(
        "update audit_entry set actor = 'someone', details = '{}', hash = ? where id = ?",
        forged.hash(),
        id);
  }

  private static String at(String fault, long id) {
    return fault + " " + id + "-" + id;
  }
}
