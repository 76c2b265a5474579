package org.equiphase.operation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The list of licences is that of the bill of materials (CycloneDX), which the build makes but for
 * -Pquick. Written anew with -Dequiphase.write.
 */
class LicencesTest {

  private static final Path BILL = Path.of("target/classes/META-INF/sbom/application.cdx.json");
  private static final Path LIST = Path.of("src/docs/licences.md");

  /** Parts of the names of licences under which anyone may give the jar away. */
  private static final List<String> FREE =
      List.of("Apache", "MIT", "BSD", "EPL", "MPL", "LGPL", "Lesser General Public License", "CC0");

  @Test
  void listHasWhatTheJarHas() throws IOException {
    assumeTrue(Files.exists(BILL), "no bill of materials in a quick build");
    List<String> rows = rows();
    if (Boolean.getBoolean("equiphase.write")) {
      Files.writeString(LIST, head() + String.join("\n", rows) + "\n");
    }

    assertThat(
            Files.readString(LIST, StandardCharsets.UTF_8).lines().filter(l -> l.startsWith("| `")))
        .containsExactlyElementsOf(rows);
    assertThat(rows).allMatch(row -> FREE.stream().anyMatch(row::contains));
  }

  private static String head() {
    return """
    # Licences of what the jar brings along

    Made from the bill of materials, which lies in the jar as `META-INF/sbom/application.cdx.json`
    (CycloneDX). Where there are several licences, any of them may be chosen. A test compares this list
    with the bill.

    | library | licence |
    | --- | --- |
    """;
  }

  private static List<String> rows() {
    JsonNode bill = JsonMapper.builder().build().readTree(BILL.toFile());
    TreeSet<String> rows = new TreeSet<>();
    for (JsonNode part : bill.get("components")) {
      List<String> names = new ArrayList<>();
      for (JsonNode each : part.path("licenses")) {
        JsonNode licence = each.path("license");
        names.add(
            each.path("expression")
                .asString(licence.path("id").asString(licence.path("name").asString(""))));
      }
      rows.add(
          "| `%s:%s` | %s |"
              .formatted(
                  part.path("group").asString(""),
                  part.get("name").asString(),
                  names.stream().distinct().collect(Collectors.joining(", "))));
    }
    return List.copyOf(rows);
  }
}
