package org.equiphase.review;

import java.net.URLDecoder;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.equiphase.review.Finding.Kind;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A filter of the queue as the part of an address after the question mark. */
final class QueueQuery {

  /** Asks for everything; an address without any query opens a person's own view instead. */
  private static final String ALL = "all";

  private static final Set<String> NAMES =
      Set.of(
          "order",
          "set",
          "cableType",
          "lot",
          "bench",
          "person",
          "dueBefore",
          "search",
          "after",
          "kind",
          ALL);

  private QueueQuery() {}

  /** Always the same text for the same filter, and never empty. */
  static String of(QueueFilter filter) {
    List<String> parts = new ArrayList<>();
    filter.kind().stream().sorted().distinct().forEach(kind -> add(parts, "kind", kind));
    add(parts, "order", filter.order());
    add(parts, "set", filter.set());
    add(parts, "cableType", filter.cableType());
    add(parts, "lot", filter.lot());
    add(parts, "bench", filter.bench());
    add(parts, "person", filter.person());
    add(parts, "dueBefore", filter.dueBefore());
    add(parts, "search", filter.search());
    add(parts, "after", filter.after());
    return parts.isEmpty() ? ALL : String.join("&", parts);
  }

  private static void add(List<String> parts, String name, @Nullable Object value) {
    if (value != null) {
      parts.add(name + "=" + URLEncoder.encode(value.toString(), StandardCharsets.UTF_8));
    }
  }

  /**
   * The filter that a query asks for.
   *
   * @throws InvalidInputException on {@code query} if it holds what the queue doesn't know
   */
  static QueueFilter read(String query) {
    try {
      return filter(query);
    } catch (IllegalArgumentException | java.time.DateTimeException e) {
      throw InvalidInputException.of("query", Sentence.of("queue.badQuery", query));
    }
  }

  private static QueueFilter filter(String query) {
    List<Kind> kinds = new ArrayList<>();
    Map<String, String> values = new HashMap<>();
    for (String part : query.split("&", -1)) {
      String[] pair = part.split("=", 2);
      String value =
          pair.length < 2 ? "" : URLDecoder.decode(pair[1], StandardCharsets.UTF_8).strip();
      if (!part.isEmpty() && !NAMES.contains(pair[0])) {
        throw new IllegalArgumentException(pair[0]);
      }
      if (value.isEmpty()) {
        continue;
      }
      if (pair[0].equals("kind")) {
        kinds.add(Kind.valueOf(value));
      } else if (values.put(pair[0], value) != null) {
        throw new IllegalArgumentException(pair[0]);
      }
    }
    String dueBefore = values.get("dueBefore");
    return new QueueFilter(
        kinds,
        values.get("order"),
        number(values.get("set")),
        number(values.get("cableType")),
        values.get("lot"),
        number(values.get("bench")),
        values.get("person"),
        dueBefore == null ? null : LocalDate.parse(dueBefore),
        values.get("search"),
        number(values.get("after")));
  }

  private static @Nullable Long number(@Nullable String value) {
    return value == null ? null : Long.valueOf(value);
  }
}
