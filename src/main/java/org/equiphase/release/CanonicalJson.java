package org.equiphase.release;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.MapperFeature;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** JSON that is the same, byte for byte, for the same values: fields by name, no spaces. */
final class CanonicalJson {

  private static final JsonMapper MAPPER =
      JsonMapper.builder()
          .enable(MapperFeature.SORT_PROPERTIES_ALPHABETICALLY)
          .enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS)
          .build();

  private CanonicalJson() {}

  static String write(Object value) {
    return MAPPER.writeValueAsString(value);
  }

  static <T> T read(String json, Class<T> type) {
    return MAPPER.readValue(json, type);
  }

  static JsonNode tree(String json) {
    return MAPPER.readTree(json);
  }

  /** SHA-256 of a text in UTF-8, as 64 hexadecimal digits. */
  static String sha256(String text) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
