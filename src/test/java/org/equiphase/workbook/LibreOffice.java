package org.equiphase.workbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assumptions;

/** LibreOffice without its window, which opens a file, computes it anew and saves it. */
final class LibreOffice {

  /** The second sheet as CSV in UTF-8, cells as they are shown. */
  static final String SECOND_SHEET_AS_CSV =
      "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,2";

  static final String CSV_IN_UTF_8 = "--infilter=CSV:44,34,76,1";

  private final Path folder;

  /** Without LibreOffice the test is skipped, except where CI should have it. */
  LibreOffice(Path folder) {
    this.folder = folder;
    boolean installed =
        Arrays.stream(System.getenv("PATH").split(File.pathSeparator))
            .anyMatch(each -> Files.isExecutable(Path.of(each, "soffice")));
    Assumptions.assumeTrue(
        installed || System.getenv("CI") != null,
        "install LibreOffice Calc to run the round trips through it");
  }

  byte[] saved(byte[] content, String from, String to, String... options)
      throws IOException, InterruptedException {
    Path file = Files.createTempFile(folder, "book", "." + from);
    Files.write(file, content);
    Path out = Files.createTempDirectory(folder, "out");
    List<String> command = new ArrayList<>();
    command.addAll(
        List.of(
            "soffice", "-env:UserInstallation=" + folder.resolve("profile").toUri(), "--headless"));
    command.addAll(List.of(options));
    command.addAll(List.of("--convert-to", to, "--outdir", out.toString(), file.toString()));
    Path log = folder.resolve("log");
    Process process =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(log.toFile()).start();
    assertThat(process.waitFor(300, TimeUnit.SECONDS)).isTrue();
    try (var files = Files.list(out)) {
      List<Path> written = files.toList();
      assertThat(written).as(Files.readString(log)).hasSize(1);
      return Files.readAllBytes(written.get(0));
    }
  }
}
