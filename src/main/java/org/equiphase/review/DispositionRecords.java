package org.equiphase.review;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.Disposition.State;
import org.equiphase.review.DispositionTables.Row;
import org.equiphase.web.NotFoundException;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * The decisions on record, each as it stands by those after it. The decisions about one assembly
 * are a chain: each supersedes the one that stood before, unless it was declined itself.
 */
@Component
class DispositionRecords {

  private final DispositionTables tables;
  private final WorkOrders workOrders;

  DispositionRecords(DispositionTables tables, WorkOrders workOrders) {
    this.tables = tables;
    this.workOrders = workOrders;
  }

  Disposition disposition(long id) {
    Row row = tables.row(id).orElseThrow(() -> new NotFoundException("disposition", "" + id));
    return about(row.assemblyId()).stream().filter(d -> d.id() == id).findFirst().orElseThrow();
  }

  /** The decisions about an assembly, the newest first. */
  List<Disposition> about(long assemblyId) {
    List<Row> rows = tables.about(assemblyId);
    if (rows.isEmpty()) {
      return List.of();
    }
    Map<Long, List<Signature>> signatures = tables.signatures(rows.stream().map(Row::id).toList());
    Assembly assembly = workOrders.assembly(assemblyId);
    String orderNumber = workOrders.order(assembly.workOrderId()).number();
    List<Disposition> newestFirst = new ArrayList<>();
    for (int i = rows.size() - 1; i >= 0; i--) {
      newestFirst.add(of(rows.get(i), assembly, orderNumber, signatures, newestFirst));
    }
    return List.copyOf(newestFirst);
  }

  /** The same with decisions about other assemblies that named this one. */
  List<Disposition> concerning(long assemblyId) {
    Set<Long> seen = new HashSet<>();
    return Stream.concat(
            Stream.of(assemblyId), tables.naming(assemblyId).stream().map(Row::assemblyId))
        .distinct()
        .flatMap(id -> about(id).stream())
        .filter(d -> d.assemblyId() == assemblyId || named(d, assemblyId))
        .filter(d -> seen.add(d.id()))
        .sorted((a, b) -> Long.compare(b.id(), a.id()))
        .toList();
  }

  private boolean named(Disposition disposition, long assemblyId) {
    Long other = tables.row(disposition.id()).orElseThrow().otherAssemblyId();
    return other != null && other == assemblyId;
  }

  private Disposition of(
      Row row,
      Assembly assembly,
      String orderNumber,
      Map<Long, List<Signature>> signatures,
      List<Disposition> later) {
    Long otherId = row.otherAssemblyId();
    List<Signature> signed = Objects.requireNonNull(signatures.get(row.id()));
    State state = DispositionTables.signed(row, signed);
    Disposition successor = successor(row.id(), state, later);
    return new Disposition(
        row.id(),
        row.kind(),
        assembly.serial(),
        row.assemblyId(),
        row.setId(),
        orderNumber,
        row.readingId(),
        row.reasonCode(),
        row.text(),
        row.terms(otherId == null ? null : workOrders.assembly(otherId).serial()),
        row.numbers(),
        row.needsSecond(),
        signed,
        successor == null ? state : State.SUPERSEDED,
        row.supersedesId(),
        successor == null ? null : successor.id(),
        row.sha256());
  }

  /**
   * The decision that took the place of one: for one that waits, any later one; for one in force,
   * the first later one that came into force itself.
   */
  private static @Nullable Disposition successor(long id, State state, List<Disposition> later) {
    for (int i = later.size() - 1; i >= 0; i--) {
      Disposition next = later.get(i);
      Long supersedes = next.supersedesId();
      boolean follows = supersedes != null && supersedes == id;
      boolean took = next.state() == State.IN_FORCE || next.state() == State.SUPERSEDED;
      if (follows && (state == State.PENDING || (state == State.IN_FORCE && took))) {
        return next;
      }
    }
    return null;
  }
}
