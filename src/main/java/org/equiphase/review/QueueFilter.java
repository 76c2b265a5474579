package org.equiphase.review;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.equiphase.review.Finding.Kind;
import org.equiphase.web.Like;
import org.equiphase.web.Require;
import org.jspecify.annotations.Nullable;

/**
 * What of the queue is wanted; what is null or empty doesn't matter.
 *
 * @param search beginning of a serial or an order number
 * @param after the finding that the page before ended with
 */
record QueueFilter(
    List<Kind> kind,
    @Nullable String order,
    @Nullable Long set,
    @Nullable Long cableType,
    @Nullable String lot,
    @Nullable Long bench,
    @Nullable String person,
    @Nullable LocalDate dueBefore,
    @Nullable String search,
    @Nullable Long after) {

  static final QueueFilter ALL =
      new QueueFilter(List.of(), null, null, null, null, null, null, null, null, null);

  QueueFilter {
    kind = kind == null ? List.of() : List.copyOf(kind);
    order = Require.textOrNull(order);
    lot = Require.textOrNull(lot);
    person = Require.textOrNull(person);
    search = Require.textOrNull(search);
  }

  QueueFilter withKinds(List<Kind> kinds) {
    return new QueueFilter(
        kinds, order, set, cableType, lot, bench, person, dueBefore, search, null);
  }

  /** The same from its first page on. */
  QueueFilter fromStart() {
    return withKinds(kind);
  }

  /** The next page. */
  QueueFilter after(long finding) {
    return new QueueFilter(
        kind, order, set, cableType, lot, bench, person, dueBefore, search, finding);
  }

  /** Whether it lets so few through that they are best looked up by themselves. */
  boolean isNarrow() {
    return order != null || set != null || search != null;
  }

  /** Adds what it asks for to a statement on findings. */
  void conditions(StringBuilder where, Map<String, Object> values) {
    if (!kind.isEmpty()) {
      where.append(" and kind in (:kinds)");
      values.put("kinds", kind.stream().map(Kind::name).toList());
    }
    equal("order_number", "order", order, where, values);
    equal("matched_set_id", "set", set, where, values);
    equal("cable_type_id", "cableType", cableType, where, values);
    equal("cable_lot", "lot", lot, where, values);
    equal("bench_id", "bench", bench, where, values);
    equal("measured_by", "person", person, where, values);
    if (dueBefore != null) {
      where.append(" and due_on <= :dueBefore");
      values.put("dueBefore", dueBefore);
    }
    if (search != null) {
      where.append(
          " and id in (select id from review_finding where serial_lower like :search escape '!'"
              + " union select id from review_finding where order_lower like :search escape '!')");
      values.put("search", Like.beginning(search.toLowerCase(Locale.ROOT)));
    }
  }

  private static void equal(
      String column,
      String name,
      @Nullable Object value,
      StringBuilder where,
      Map<String, Object> values) {
    if (value != null) {
      where.append(" and ").append(column).append(" = :").append(name);
      values.put(name, value);
    }
  }
}
