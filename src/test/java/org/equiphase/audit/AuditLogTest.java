package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;

@ExtendWith(RunningService.Extension.class)
class AuditLogTest {

  private final RunningService service;
  private final AuditLog log;
  private final TransactionTemplate transaction;
  private final String subject = UUID.randomUUID().toString();

  AuditLogTest(RunningService service) {
    this.service = service;
    log = service.bean(AuditLog.class);
    transaction = new TransactionTemplate(service.bean(PlatformTransactionManager.class));
  }

  @Test
  void anEntryNeedsTheTransactionOfItsChange() {
    assertThatThrownBy(() -> log.record("TESTED", "test", subject, Map.of()))
        .isInstanceOf(IllegalStateException.class);
  }

  @Test
  void anEntryIsRolledBackWithItsChange() {
    transaction.executeWithoutResult(
        status -> {
          log.record("TESTED", "test", subject, Map.of());
          status.setRollbackOnly();
        });

    assertThat(entries()).isEmpty();
  }

  @Test
  void anEntryIsRolledBackWithTheSavepointAfterWhichItWasMade() {
    TransactionTemplate nested =
        new TransactionTemplate(service.bean(PlatformTransactionManager.class));
    nested.setPropagationBehavior(TransactionDefinition.PROPAGATION_NESTED);
    Consumer<String> takenBack =
        action ->
            nested.executeWithoutResult(
                status -> {
                  log.record(action, "test", subject, Map.of());
                  status.setRollbackOnly();
                });
    transaction.executeWithoutResult(
        status -> {
          takenBack.accept("LOST_FIRST");
          log.record("KEPT", "test", subject, Map.of());
          takenBack.accept("LOST_SECOND");
          nested.executeWithoutResult(s -> log.record("KEPT_TOO", "test", subject, Map.of()));
        });

    assertThat(entries()).extracting(AuditEntry::action).containsExactly("KEPT_TOO", "KEPT");
  }

  @Test
  void entriesOfOneTransactionKeepTheirOrder() {
    transaction.executeWithoutResult(
        status -> {
          log.record("FIRST", "test", subject, Map.of("b", 2, "a", List.of(1.5, "x")));
          log.record("SECOND", "test", subject, Map.of());
        });

    assertThat(entries()).extracting(AuditEntry::action).containsExactly("SECOND", "FIRST");
    assertThat(entries().get(1).details()).isEqualTo("{\"a\":[1.5,\"x\"],\"b\":2}");
    assertThat(entries()).extracting(AuditEntry::actor).containsOnly("system");
    assertThat(service.bean(ChainChecker.class).check().isIntact()).isTrue();
  }

  @Test
  void manyAtOnceStillMakeOneChain() {
    CompletableFuture<?>[] writers =
        IntStream.range(0, 8)
            .mapToObj(
                writer ->
                    CompletableFuture.runAsync(
                        () -> {
                          for (int i = 0; i < 10; i++) {
                            transaction.executeWithoutResult(
                                status -> log.record("TESTED", "test", subject, Map.of()));
                          }
                        }))
            .toArray(CompletableFuture<?>[]::new);
    CompletableFuture.allOf(writers).join();

    assertThat(entries()).hasSize(80);
    assertThat(service.bean(ChainChecker.class).check().isIntact()).isTrue();
  }

  @Test
  void theApiFiltersAndPages() {
    addThree();
    ApiClient api = service.api(Role.QA);
    String path = "/api/v1/audit?actor=system&subjectType=test&limit=2&subjectKey=" + subject;
    JsonNode newest = ApiClient.json(api.get(path));
    JsonNode older = ApiClient.json(api.get(path + "&before=" + newest.get(1).get("id").asLong()));

    assertThat(newest).hasSize(2);
    assertThat(older).hasSize(1);
    assertThat(newest.get(0).get("details").get("value").asDouble()).isEqualTo(3);
    assertThat(ApiClient.json(api.get("/api/v1/audit/chain")).get("intact").asBoolean()).isTrue();
  }

  @Test
  void thePageShowsEntriesAndTheStateOfTheChain() {
    addThree();
    var pages = service.pages(Role.ADMINISTRATOR);

    assertThat(pages.get("/audit?subjectKey=" + subject).body()).contains("TESTED");
    assertThat(pages.get("/audit?subjectKey=none-such").body()).contains("No entries fit");
    assertThat(pages.get("/audit/chain").body()).contains("are as they were written");
  }

  private void addThree() {
    for (int i = 1; i <= 3; i++) {
      int value = i;
      transaction.executeWithoutResult(
          status -> log.record("TESTED", "test", subject, Map.of("value", value)));
    }
  }

  private List<AuditEntry> entries() {
    return log.entries(null, "test", subject, null, 1000);
  }
}
