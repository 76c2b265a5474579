package org.equiphase.audit;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/** Where the things that entries name have their pages. */
final class SubjectPages {

  /** Pages whose address ends with the key, by kind of thing. */
  private static final Map<String, String> BY_KEY =
      Map.of(
          "assembly", "/assemblies/",
          "work order", "/workorders/",
          "person", "/people/");

  /** Pages of the catalog, whose address ends with the id in the details. */
  private static final Map<String, String> BY_ID =
      Map.of(
          "cable type", "/catalog/cable-types/",
          "end standard", "/catalog/end-standards/",
          "adapter", "/catalog/adapters/",
          "line stretcher", "/catalog/line-stretchers/",
          "instrument", "/catalog/instruments/",
          "bench", "/catalog/benches/");

  /** Details that are the id of something with a page. */
  private static final Map<String, String> BY_DETAIL =
      Map.of("reading", "/readings/", "disposition", "/review/dispositions/");

  private SubjectPages() {}

  static @Nullable String of(String subjectType, String subjectKey, JsonNode details) {
    String byKey = BY_KEY.get(subjectType);
    if (byKey != null) {
      return byKey + URLEncoder.encode(subjectKey, StandardCharsets.UTF_8).replace("+", "%20");
    }
    String byId = BY_ID.get(subjectType);
    if (byId != null) {
      return details.path("id").isIntegralNumber()
          ? byId + details.path("id").asLong()
          : "/catalog";
    }
    return switch (subjectType) {
      // Sets are named by id and name, since names are unique within an order only.
      case "set" -> subjectKey.matches("\\d+( .*)?") ? "/sets/" + subjectKey.split(" ")[0] : null;
      case "file" -> "/files";
      case "pause" -> "/bench";
      default -> null;
    };
  }

  static @Nullable String of(String detail, JsonNode value) {
    String page = BY_DETAIL.get(detail);
    return page == null || !value.isIntegralNumber() ? null : page + value.asLong();
  }
}
