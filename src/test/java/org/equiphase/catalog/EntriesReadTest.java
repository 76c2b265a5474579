package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import org.equiphase.RunningService;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;

/** A transaction reads an entry once, and again after whatever may have changed it. */
@ExtendWith(RunningService.Extension.class)
class EntriesReadTest {

  private final RunningService service;
  private final Catalog catalog;
  private final TransactionTemplate transaction;
  private final PlatformTransactionManager transactions;
  private long id;

  EntriesReadTest(RunningService service) {
    this.service = service;
    catalog = service.bean(Catalog.class);
    transactions = service.bean(PlatformTransactionManager.class);
    transaction = new TransactionTemplate(transactions);
  }

  @BeforeEach
  void store() {
    id = catalog.save(new Adapter(0, 0, Sample.newName(), 10, 0.1, "")).id();
  }

  @Test
  void aTransactionReadsAnEntryOnce() {
    transaction.executeWithoutResult(
        status -> assertThat(catalog.adapter(id)).isSameAs(catalog.adapter(id)));
    assertThat(TransactionSynchronizationManager.getResourceMap()).isEmpty();
    assertThat(catalog.adapter(id)).isNotSameAs(catalog.adapter(id));
  }

  @Test
  void aWriteIsSeenInItsTransaction() {
    transaction.executeWithoutResult(
        status -> {
          assertThat(catalog.adapter(id).delayPs()).isEqualTo(10);
          catalog.save(delayed(id, 11));
          assertThat(catalog.adapter(id).delayPs()).isEqualTo(11);
        });
    assertThat(catalog.adapter(id).delayPs()).isEqualTo(11);
  }

  /** A bench is told with its adapters. */
  @Test
  void aWriteOfOneKindIsSeenInAnother() {
    long benchId = Sample.of("benches", service).store(service);
    transaction.executeWithoutResult(
        status -> {
          Adapter adapter = catalog.bench(benchId).adapters().get(0);
          catalog.save(delayed(adapter.id(), 12));
          assertThat(catalog.bench(benchId).adapters().get(0).delayPs()).isEqualTo(12);
        });
  }

  @Test
  void whatIsRolledBackToASavepointIsForgotten() {
    TransactionTemplate nested = of(TransactionDefinition.PROPAGATION_NESTED);
    transaction.executeWithoutResult(
        status -> {
          nested.executeWithoutResult(
              inner -> {
                catalog.save(delayed(id, 13));
                assertThat(catalog.adapter(id).delayPs()).isEqualTo(13);
                inner.setRollbackOnly();
              });
          assertThat(catalog.adapter(id).delayPs()).isEqualTo(10);
        });
  }

  @Test
  void aTransactionWithinReadsForItself() {
    transaction.executeWithoutResult(
        status -> {
          Adapter read = catalog.adapter(id);
          of(TransactionDefinition.PROPAGATION_REQUIRES_NEW)
              .executeWithoutResult(
                  inner -> assertThat(catalog.adapter(id)).isEqualTo(read).isNotSameAs(read));
          assertThat(catalog.adapter(id)).isSameAs(read);
        });
  }

  private TransactionTemplate of(int propagation) {
    TransactionTemplate template = new TransactionTemplate(transactions);
    template.setPropagationBehavior(propagation);
    return template;
  }

  private Adapter delayed(long adapterId, double delayPs) {
    Adapter now = catalog.adapter(adapterId);
    return new Adapter(
        adapterId, now.version(), now.name(), delayPs, now.lossDbAt1Ghz(), now.note());
  }
}
