package org.equiphase.catalog;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.springframework.transaction.support.ResourceHolderSupport;
import org.springframework.transaction.support.ResourceHolderSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * The entries that the present transaction has read, so that it reads each once: all who take part
 * in a reading ask for its bench. A bench holds entries of other kinds, so a write of any kind
 * forgets them all. Nothing is kept beyond the transaction: other instances write to the same
 * database.
 */
final class EntriesRead extends ResourceHolderSupport {

  private record Key(Shelf<?> shelf, long id) {}

  private final Map<Key, Optional<?>> entries = new HashMap<>();

  private EntriesRead() {}

  /** The entry as this transaction read it before, else as it is read now. */
  static <T extends CatalogEntry> Optional<T> find(
      Shelf<T> shelf, long id, Supplier<Optional<T>> read) {
    if (!TransactionSynchronizationManager.isSynchronizationActive()) {
      return read.get();
    }
    Map<Key, Optional<?>> entries = ofThisTransaction().entries;
    Key key = new Key(shelf, id);
    @SuppressWarnings("unchecked")
    Optional<T> before = (Optional<T>) entries.get(key);
    if (before != null) {
      return before;
    }
    Optional<T> entry = read.get();
    entries.put(key, entry);
    return entry;
  }

  static void forget() {
    if (TransactionSynchronizationManager.getResource(EntriesRead.class) instanceof EntriesRead r) {
      r.entries.clear();
    }
  }

  private static EntriesRead ofThisTransaction() {
    if (TransactionSynchronizationManager.getResource(EntriesRead.class) instanceof EntriesRead r) {
      return r;
    }
    EntriesRead read = new EntriesRead();
    TransactionSynchronizationManager.bindResource(EntriesRead.class, read);
    TransactionSynchronizationManager.registerSynchronization(
        new ResourceHolderSynchronization<>(read, EntriesRead.class) {
          @Override
          public void savepointRollback(Object savepoint) {
            read.entries.clear();
          }
        });
    return read;
  }
}
