package org.equiphase.process;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Which values of a series; null filters let all through. */
public record Selection(
    Series series,
    @Nullable Long cableTypeId,
    @Nullable Long benchId,
    @Nullable String person,
    @Nullable String lot,
    @Nullable String orderNumber) {

  static Selection all(Series series) {
    return new Selection(series, null, null, null, null, null);
  }

  Selection in(Series other) {
    return new Selection(other, cableTypeId, benchId, person, lot, orderNumber);
  }

  Selection atBench(@Nullable Long id) {
    return new Selection(series, cableTypeId, id, person, lot, orderNumber);
  }

  Selection ofCableType(@Nullable Long id) {
    return new Selection(series, id, benchId, person, lot, orderNumber);
  }

  /**
   * The filters by column, in the order of the indexes; lot and order go first, as the narrowest.
   */
  Map<String, Object> filters() {
    Map<String, Object> filters = new LinkedHashMap<>();
    put(filters, "lot", lot);
    put(filters, "order_number", orderNumber);
    put(filters, "cable_type_id", cableTypeId);
    put(filters, "bench_id", benchId);
    put(filters, "person", person);
    return filters;
  }

  private static void put(Map<String, Object> filters, String column, @Nullable Object value) {
    if (value != null) {
      filters.put(column, value);
    }
  }

  /** The same text for the same selection, to keep limits by. */
  String key() {
    return "series="
        + series.id()
        + filters().entrySet().stream()
            .map(f -> " " + f.getKey() + "=" + f.getValue())
            .collect(Collectors.joining());
  }
}
