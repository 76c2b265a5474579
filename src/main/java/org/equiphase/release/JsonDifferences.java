package org.equiphase.release;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.equiphase.release.ReleaseCheck.Difference;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/** Compares two JSON values, value by value; members of lists by what names them. */
final class JsonDifferences {

  /** Another processor may compute the last digits otherwise. */
  private static final double SAME = 1e-9;

  private static final List<String> NAMES = List.of("serial", "frequencyHz", "bench", "number");

  private final List<Difference> found = new ArrayList<>();

  private JsonDifferences() {}

  static List<Difference> between(JsonNode certified, JsonNode now) {
    JsonDifferences differences = new JsonDifferences();
    differences.compare("", certified, now);
    return differences.found;
  }

  private void compare(String where, @Nullable JsonNode certified, @Nullable JsonNode now) {
    if (certified != null && now != null && certified.isObject() && now.isObject()) {
      each(where, fields(certified), fields(now));
    } else if (certified != null && now != null && certified.isArray() && now.isArray()) {
      each(where, elements(certified), elements(now));
    } else if (!same(certified, now)) {
      found.add(new Difference(where, text(certified), text(now)));
    }
  }

  private void each(String where, Map<String, JsonNode> certified, Map<String, JsonNode> now) {
    Set<String> names = new LinkedHashSet<>(certified.keySet());
    names.addAll(now.keySet());
    for (String name : names) {
      compare(where.isEmpty() ? name : where + " / " + name, certified.get(name), now.get(name));
    }
  }

  private static Map<String, JsonNode> fields(JsonNode object) {
    Map<String, JsonNode> fields = new LinkedHashMap<>();
    object.properties().forEach(field -> fields.put(field.getKey(), field.getValue()));
    return fields;
  }

  private static Map<String, JsonNode> elements(JsonNode array) {
    Map<String, JsonNode> elements = new LinkedHashMap<>();
    for (JsonNode element : array) {
      String name = name(element);
      elements.put(elements.containsKey(name) ? name + " " + elements.size() : name, element);
    }
    return elements;
  }

  private static String name(JsonNode element) {
    return NAMES.stream()
        .filter(element::has)
        .map(name -> element.get(name).asString())
        .findFirst()
        .orElseGet(() -> element.isValueNode() ? element.asString() : "");
  }

  private static boolean same(@Nullable JsonNode certified, @Nullable JsonNode now) {
    if (certified == null || now == null) {
      return certified == now;
    }
    if (certified.isNumber() && now.isNumber()) {
      double apart = Math.abs(certified.asDouble() - now.asDouble());
      return apart <= SAME * Math.max(1, Math.abs(certified.asDouble()));
    }
    return certified.equals(now);
  }

  private static String text(@Nullable JsonNode value) {
    return value == null || value.isNull()
        ? "–"
        : value.isValueNode() ? value.asString() : value.toString();
  }
}
