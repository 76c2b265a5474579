package org.equiphase.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DemoDataGeneratorTest {

  private static final Path KEPT = Path.of("demo-data");

  @Test
  void writesTheKeptFilesAgainByteForByte(@TempDir Path fresh) throws IOException {
    DemoDataGenerator.write(fresh);

    List<String> names = names(fresh);
    assertThat(names)
        .isEqualTo(names(KEPT).stream().filter(name -> !name.equals("README.md")).toList());
    for (String name : names) {
      assertThat(fresh.resolve(name)).hasSameBinaryContentAs(KEPT.resolve(name));
    }
  }

  @Test
  void staysSmall() throws IOException {
    long bytes = 0;
    for (String name : names(KEPT)) {
      bytes += Files.size(KEPT.resolve(name));
    }
    assertThat(bytes).isLessThan(4_000_000);
  }

  private static List<String> names(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      return files
          .filter(Files::isRegularFile)
          .map(file -> folder.relativize(file).toString().replace('\\', '/'))
          .sorted()
          .toList();
    }
  }
}
