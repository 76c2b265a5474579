package org.equiphase.audit;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CancellationException;
import java.util.concurrent.locks.ReentrantLock;
import java.util.stream.Stream;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Checks the whole chain and all that it seals. Writes go on meanwhile. */
@Service
public class ChainChecker {

  private static final int BATCH = 1000;

  private final AuditEntries entries;
  private final List<Seal> seals;
  private final TransactionTemplate transaction;
  private final Clock clock;
  private final ReentrantLock oneAtATime = new ReentrantLock();
  private volatile @Nullable ChainCheck latest;
  private volatile boolean stopping;

  ChainChecker(
      AuditEntries entries,
      List<Seal> seals,
      PlatformTransactionManager transactions,
      Clock clock) {
    this.entries = entries;
    this.seals = List.copyOf(seals);
    this.transaction = new TransactionTemplate(transactions);
    this.clock = clock;
  }

  /** Checks now; while another check runs, waits for that one and gives its result. */
  public ChainCheck check() {
    if (oneAtATime.isLocked()) {
      oneAtATime.lock();
      try {
        ChainCheck other = latest;
        return other == null ? run().result() : other;
      } finally {
        oneAtATime.unlock();
      }
    }
    return walk().result();
  }

  /** What the last check of this instance found; empty until the first has ended. */
  public Optional<ChainCheck> latest() {
    return Optional.ofNullable(latest);
  }

  /** Lets a running check end early, without a result. */
  void stop() {
    stopping = true;
  }

  /** A check, and what it saw of each kind of sealed row. */
  record Walked(ChainCheck result, List<SealWalk> rows) {}

  Walked walk() {
    oneAtATime.lock();
    try {
      return run();
    } finally {
      oneAtATime.unlock();
    }
  }

  private Walked run() {
    ChainWalk chain = new ChainWalk();
    SealWalks rows = new SealWalks(seals);
    ChainEnd end = entries.end().orElse(null);
    List<AuditEntry> beyond = beyondEnd();
    follow(chain, rows, end);
    rows.findUnsealed();
    ChainEnd settled =
        rows.hasSuspects() && end != null
            ? transaction.execute(
                status -> {
                  ChainEnd held = entries.lockEnd();
                  follow(chain, rows, held);
                  rows.settle();
                  return held;
                })
            : end;
    chain.finish(settled, beyond);
    ChainCheck result =
        new ChainCheck(
            clock.instant(),
            chain.entries(),
            rows.rows(),
            settled,
            chain.found().stream().map(this::link).toList(),
            chain.faults(),
            rows.all().flatMap(this::brokenSeals).toList(),
            rows.faults());
    latest = result;
    return new Walked(result, rows.all().toList());
  }

  /** Without an end that was kept, all there is. */
  private void follow(ChainWalk chain, SealWalks rows, @Nullable ChainEnd end) {
    long upTo = end == null ? Long.MAX_VALUE : end.id();
    long from = chain.entries() == 0 ? Long.MIN_VALUE : chain.lastId();
    while (from < upTo) {
      if (stopping) {
        throw new CancellationException("the service stops");
      }
      List<AuditEntry> batch =
          entries.after(from, BATCH).stream().filter(entry -> entry.id() <= upTo).toList();
      if (batch.isEmpty()) {
        return;
      }
      batch.forEach(chain::accept);
      rows.accept(batch);
      from = batch.get(batch.size() - 1).id();
    }
  }

  private List<AuditEntry> beyondEnd() {
    return entries.beyondEnd(ChainCheck.MOST).stream()
        .flatMap(id -> entries.entry(id).stream())
        .toList();
  }

  private BrokenLink link(ChainWalk.Found found) {
    AuditEntry entry = found.entry();
    return new BrokenLink(
        found.fault(),
        found.firstId(),
        found.lastId(),
        found.what(),
        entry == null ? null : EntryHead.of(entry),
        entries.lastBefore(found.firstId()).map(EntryHead::of).orElse(null),
        entries.after(found.lastId(), 1).stream().findFirst().map(EntryHead::of).orElse(null));
  }

  private Stream<BrokenSeal> brokenSeals(SealWalk rows) {
    List<BrokenSeal> broken = new ArrayList<>();
    for (SealWalk.Found found : rows.found()) {
      EntryHead entry = entries.entry(found.entryId()).map(EntryHead::of).orElse(null);
      broken.add(
          new BrokenSeal(
              found.fault(), rows.kind(), found.rowId(), what(found, rows.kind()), entry));
    }
    return broken.stream();
  }

  private static Sentence what(SealWalk.Found found, String kind) {
    Sentence row = SealedKind.name(kind);
    String id = "" + found.rowId();
    return switch (found.fault()) {
      case CHANGED -> Sentence.of("audit.seal.changed", row, id, "" + found.entryId());
      case REMOVED -> Sentence.of("audit.seal.removed", row, id, "" + found.entryId());
      case ADDED -> Sentence.of("audit.seal.added", row, id);
    };
  }
}
