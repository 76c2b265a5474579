package org.equiphase.matching;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Solved pools; src/test/resources/pool/README.md tells their source. */
public final class SolvedPools {

  private SolvedPools() {}

  public static Stream<String> ids() {
    return IntStream.rangeClosed(1, 19).mapToObj(n -> String.format("p%02d", n));
  }

  public static JsonNode read(String id) {
    try (InputStream in = SolvedPools.class.getResourceAsStream("/pool/" + id + ".json")) {
      return JsonMapper.shared().readTree(in);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
