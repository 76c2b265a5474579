package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.station.StationOptions.BadOptionsException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class StationOptionsTest {

  private Path folder;
  private Path token;

  @BeforeEach
  void writeToken(@TempDir Path temporary) throws IOException {
    folder = temporary;
    token = Files.writeString(folder.resolve("token"), "eqp_x");
  }

  @Test
  void whatIsLeftOutIsUsual() throws BadOptionsException {
    assertThat(StationOptions.read(good()))
        .isEqualTo(
            new StationOptions(
                URI.create("https://shop.example/equiphase"),
                token,
                "Bench 1, S-band",
                folder,
                null,
                false,
                Duration.ofSeconds(2),
                Duration.ofSeconds(60)));
  }

  @Test
  void allThatCanBeGiven() throws BadOptionsException {
    List<String> options = good();
    options.addAll(List.of("--temperature-c=-4.5", "--settle-s=0.5", "--retry-max-s=5", "--once"));
    StationOptions read = StationOptions.read(options);
    assertThat(read.temperatureC()).isEqualTo(-4.5);
    assertThat(read.settle()).isEqualTo(Duration.ofMillis(500));
    assertThat(read.longestPause()).isEqualTo(Duration.ofSeconds(5));
    assertThat(read.once()).isTrue();
  }

  /** The command line goes before the file; a backslash in the file is a backslash. */
  @Test
  void fromAFile() throws Exception {
    Path config =
        Files.writeString(
            folder.resolve("station.conf"),
            """
            # bench 1

            service = https://shop.example
            token-file=%s
            bench=B\\1
            folder=%s
            once
            """
                .formatted(token, folder));
    StationOptions read = StationOptions.read(List.of("--config=" + config, "--once=false"));
    assertThat(read.bench()).isEqualTo("B\\1");
    assertThat(read.service()).hasToString("https://shop.example");
    assertThat(read.once()).isFalse();

    Files.writeString(config, "\nfoldr=/x\nconfig=y\n");
    assertThatThrownBy(() -> StationOptions.read(List.of("--config=" + config)))
        .hasMessageContaining("line 2: foldr is not known; known are service, token-file")
        .hasMessageContaining("line 3: config is not known")
        .hasMessageContaining("--folder is missing");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "--service=shop.example  | --service is \"shop.example\"; give an address that begins with",
        "--service=ftp://a.b     | give an address that begins with https:// or http://",
        "--service=https://a b   | give an address",
        "--token-file=/no/such   | --token-file is /no/such, which can't be read; give another",
        "--folder=/no/such       | --folder is /no/such, which is no folder",
        "--bench=                | --bench is missing; give the bench's name or number",
        "--temperature-c=22,5    | --temperature-c is \"22,5\"; give a number from -100.0 to 300.0",
        "--temperature-c=NaN     | give a number from -100.0 to 300.0",
        "--settle-s=0            | --settle-s is \"0\"; give a number from 0.05",
        "--once=yes              | --once is \"yes\"; give true or false",
        "--bench                 | bench has no value; give it as bench=value",
        "--benhc=1               | --benhc is not known; known are service",
        "bench=1                 | \"bench=1\" is no option; options are given as --name=value",
        "--config=/no/such       | --config can't be read",
      })
  void badOptions(String option, String expected) {
    List<String> options = good();
    options.add(option);
    assertThatThrownBy(() -> StationOptions.read(options))
        .isInstanceOf(BadOptionsException.class)
        .hasMessageContaining(expected);
  }

  @Test
  void theCommandSaysAllThatIsMissingAndHowItIsUsed() {
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    int status = StationCommand.run(List.of(), new PrintStream(said, true, StandardCharsets.UTF_8));
    assertThat(status).isEqualTo(2);
    assertThat(said.toString(StandardCharsets.UTF_8))
        .contains("--service is missing", "--token-file is", "--bench is", "--folder is missing")
        .contains("java -jar equiphase.jar station");
  }

  private List<String> good() {
    return new ArrayList<>(
        List.of(
            "--service=https://shop.example/equiphase/",
            "--token-file=" + token,
            "--bench=Bench 1, S-band",
            "--folder=" + folder));
  }
}
