package org.equiphase.load;

import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Set;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/**
 * One of several copies of a block of work: its names carry the copy's number, its ids lie a stride
 * apart, and it was worked some hours after the one before; the last stands where the block did.
 *
 * @param number from 0
 * @param of how many copies there are
 */
public record Copy(long number, long of) {

  /** What the names of the block begin with. */
  public static final String NAME = "A00000";

  static final long STRIDE = 100_000;
  static final long APART_S = Duration.ofHours(8).toSeconds();

  /** Names in audit details and certificates under which ids of copied rows stand. */
  private static final Set<String> IDS =
      Set.of("id", "reading", "instruction", "disposition", "readingId", "setId");

  private static final Pattern RELEASE_NUMBER = Pattern.compile("^CM-(\\d+)-");
  private static final Pattern SET_KEY = Pattern.compile("^(\\d+) ");

  public long id(long id) {
    return id + number * STRIDE;
  }

  public Instant time(Instant time) {
    return time.plusSeconds((number - of + 1) * APART_S);
  }

  public String name(String text) {
    if (text.startsWith("CM-")) {
      return RELEASE_NUMBER.matcher(text).replaceFirst(found -> "CM-" + shifted(found) + "-");
    }
    return text.contains(NAME) ? text.replace(NAME, "A%05d".formatted(number)) : text;
  }

  /** The subject of an audit entry; a set's begins with its id. */
  public String subject(String type, String key) {
    return type.equals("set")
        ? SET_KEY.matcher(key).replaceFirst(found -> shifted(found) + " ")
        : name(key);
  }

  private long shifted(MatchResult found) {
    return id(Long.parseLong(found.group(1)));
  }

  /** Renames, shifts and moves all that a tree holds. */
  public void apply(JsonNode tree) {
    if (tree instanceof ObjectNode object) {
      for (String field : object.propertyNames().stream().toList()) {
        JsonNode value = object.get(field);
        if (value.isIntegralNumber() && IDS.contains(field)) {
          object.put(field, id(value.asLong()));
        } else if (value.isString()) {
          object.put(field, text(value.asString()));
        } else {
          apply(value);
        }
      }
    } else if (tree instanceof ArrayNode array) {
      array.forEach(this::apply);
    }
  }

  private String text(String text) {
    if (text.endsWith("Z") && text.length() > 18 && Character.isDigit(text.charAt(0))) {
      try {
        return time(Instant.parse(text)).toString();
      } catch (DateTimeParseException e) {
        return name(text);
      }
    }
    return name(text);
  }
}
