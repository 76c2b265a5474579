package org.equiphase.audit;

import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * An entry as the page shows it.
 *
 * @param page address of the page about its subject; null where there is none
 */
record EntryView(AuditEntry entry, @Nullable String page, List<Detail> details) {

  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final int LONG = 200;
  private static final DateTimeFormatter SECOND =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss").withZone(ZoneOffset.UTC);

  /** One thing that an entry tells, with the address of its page where there is one. */
  record Detail(String name, String value, @Nullable String page) {

    /** Whether it would push all else aside. */
    public boolean isLong() {
      return value.length() > LONG;
    }
  }

  /**
   * @param seesPeople whether the reader may open the pages about people
   */
  static EntryView of(AuditEntry entry, boolean seesPeople) {
    JsonNode details = json(entry.details());
    boolean closed = entry.subjectType().equals("person") && !seesPeople;
    return new EntryView(
        entry,
        closed ? null : SubjectPages.of(entry.subjectType(), entry.subjectKey(), details),
        details.isObject()
            ? details
                .propertyStream()
                .map(
                    property ->
                        new Detail(
                            property.getKey(),
                            property.getKey().equals(AuditLog.SEALED)
                                ? sealed(property.getValue())
                                : text(property.getValue()),
                            SubjectPages.of(property.getKey(), property.getValue())))
                .toList()
            : List.of(new Detail("", entry.details(), null)));
  }

  /** Date and time in UTC, to the second. */
  static String time(Instant at) {
    return SECOND.format(at);
  }

  public String time() {
    return time(entry.at());
  }

  /** The details; a text where they are no longer the JSON that the service wrote. */
  static JsonNode json(String details) {
    try {
      return JSON.readTree(details);
    } catch (JacksonException e) {
      return JSON.getNodeFactory().stringNode(details);
    }
  }

  private static String sealed(JsonNode rows) {
    return rows.valueStream()
        .map(row -> row.path("kind").asString("") + " " + row.path("id").asString(""))
        .collect(Collectors.joining(", "));
  }

  private static String text(JsonNode value) {
    if (value.isArray()) {
      return value.valueStream().map(EntryView::text).collect(Collectors.joining(", "));
    }
    if (value.isObject()) {
      return value
          .propertyStream()
          .map(property -> property.getKey() + ": " + text(property.getValue()))
          .collect(Collectors.joining(", "));
    }
    return value.isNull() ? "–" : value.asString();
  }
}
