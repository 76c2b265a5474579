package org.equiphase.station;

import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What a station is told at its start.
 *
 * @param service address of the service without a slash at its end
 * @param tokenFile read anew for each request, so that a token can be replaced while it runs
 * @param bench its name or its number
 * @param temperatureC null for what is noted at the bench
 * @param once send what is there and end
 * @param settle how long a file must stay unchanged to be taken as complete
 * @param longestPause longest wait between two tries to reach the service
 */
record StationOptions(
    URI service,
    Path tokenFile,
    String bench,
    Path folder,
    @Nullable Double temperatureC,
    boolean once,
    Duration settle,
    Duration longestPause) {

  static final String USAGE =
      """
      java -jar equiphase.jar station --service=https://... --token-file=... --bench=... --folder=...

        --service        address of the service
        --token-file     file that holds an API token of a technician or of QA
        --bench          the bench's name or number as in the catalog
        --folder         the folder to watch
        --temperature-c  temperature at the bench; without it what is noted at the bench counts
        --settle-s       seconds that a file must stay unchanged to count as complete; 2 if not given
        --retry-max-s    longest wait in seconds between two tries; 60 if not given
        --once           send what is there, then end
        --config         file with these options, one per line as name=value; # begins a comment
      """;

  private static final String CONFIG = "config";
  private static final List<String> NAMES =
      List.of(
          "service",
          "token-file",
          "bench",
          "folder",
          "temperature-c",
          "settle-s",
          "retry-max-s",
          "once",
          CONFIG);

  /** Options that won't do, each with what would. */
  static final class BadOptionsException extends Exception {
    private static final long serialVersionUID = 1L;

    BadOptionsException(List<String> problems) {
      super(String.join(System.lineSeparator(), problems));
    }
  }

  /** Reads the options; those of the command line go before those of the config file. */
  static StationOptions read(List<String> arguments) throws BadOptionsException {
    List<String> problems = new ArrayList<>();
    Map<String, String> typed = new LinkedHashMap<>();
    for (String argument : arguments) {
      if (argument.startsWith("--")) {
        put(typed, argument.substring(2), "--", problems);
      } else {
        problems.add("\"" + argument + "\" is no option; options are given as --name=value");
      }
    }
    Map<String, String> all = new LinkedHashMap<>();
    String config = typed.remove(CONFIG);
    if (config != null) {
      readConfig(config, all, problems);
    }
    all.putAll(typed);
    StationOptions options = new Reader(all, problems).options();
    if (options == null || !problems.isEmpty()) {
      throw new BadOptionsException(problems);
    }
    return options;
  }

  /** A line as it stands: a backslash is a backslash, as the paths of some systems need. */
  private static void readConfig(String file, Map<String, String> all, List<String> problems) {
    try {
      int number = 0;
      for (String line : Files.readAllLines(Path.of(file), StandardCharsets.UTF_8)) {
        number++;
        if (!line.isBlank() && !line.strip().startsWith("#")) {
          put(all, line.strip(), file + ", line " + number + ": ", problems);
        }
      }
    } catch (IOException | InvalidPathException e) {
      problems.add("--config can't be read: " + e + "; give a text file in UTF-8");
    }
  }

  private static void put(
      Map<String, String> all, String option, String where, List<String> problems) {
    int equals = option.indexOf('=');
    String name = (equals < 0 ? option : option.substring(0, equals)).strip();
    if (!NAMES.contains(name) || (name.equals(CONFIG) && !where.equals("--"))) {
      problems.add(where + name + " is not known; known are " + String.join(", ", NAMES));
    } else if (equals < 0 && !name.equals("once")) {
      problems.add(where + name + " has no value; give it as " + name + "=value");
    } else {
      all.put(name, equals < 0 ? "true" : option.substring(equals + 1).strip());
    }
  }

  /** Checks the values, and collects all that is wrong. */
  private record Reader(Map<String, String> values, List<String> problems) {

    @Nullable StationOptions options() {
      URI service = service();
      Path tokenFile = path("token-file", "a file that holds an API token");
      if (tokenFile != null && !Files.isReadable(tokenFile)) {
        problems.add("--token-file is " + tokenFile + ", which can't be read; give another");
      }
      String bench = text("bench", "the bench's name or number as in the catalog");
      Path folder = path("folder", "the folder to watch");
      if (folder != null && !(Files.isDirectory(folder) && Files.isWritable(folder))) {
        problems.add(
            "--folder is " + folder + ", which is no folder that can be written to; give another");
      }
      Double temperatureC = number("temperature-c", -100, 300, null);
      Double settleS = number("settle-s", 0.05, 3600, 2.0);
      Double pauseS = number("retry-max-s", 0.05, 3600, 60.0);
      String once = values.getOrDefault("once", "false");
      if (!once.equals("true") && !once.equals("false")) {
        problems.add("--once is \"" + once + "\"; give true or false, or no value for true");
      }
      return service == null
              || tokenFile == null
              || bench == null
              || folder == null
              || settleS == null
              || pauseS == null
          ? null
          : new StationOptions(
              service,
              tokenFile,
              bench,
              folder,
              temperatureC,
              once.equals("true"),
              seconds(settleS),
              seconds(pauseS));
    }

    private static Duration seconds(double seconds) {
      return Duration.ofMillis(Math.round(seconds * 1e3));
    }

    private @Nullable String text(String name, String what) {
      String value = values.get(name);
      if (value == null || value.isEmpty()) {
        problems.add("--" + name + " is missing; give " + what);
        return null;
      }
      return value;
    }

    private @Nullable URI service() {
      String value = text("service", "the address of the service, such as https://equiphase.local");
      if (value == null) {
        return null;
      }
      try {
        URI uri = URI.create(value.replaceFirst("/+$", ""));
        boolean web = "http".equals(uri.getScheme()) || "https".equals(uri.getScheme());
        if (web && uri.getHost() != null && uri.getQuery() == null && uri.getFragment() == null) {
          return uri;
        }
      } catch (IllegalArgumentException e) {
        // Told below, with what would do.
      }
      problems.add(
          "--service is \"" + value + "\"; give an address that begins with https:// or http://");
      return null;
    }

    private @Nullable Path path(String name, String what) {
      String value = text(name, what);
      try {
        return value == null ? null : Path.of(value).toAbsolutePath();
      } catch (InvalidPathException e) {
        problems.add("--" + name + " is \"" + value + "\", which is no path; give " + what);
        return null;
      }
    }

    private @Nullable Double number(String name, double min, double max, @Nullable Double usual) {
      String value = values.get(name);
      if (value == null) {
        return usual;
      }
      try {
        double number = Double.parseDouble(value);
        if (number >= min && number <= max) {
          return number;
        }
      } catch (NumberFormatException e) {
        // Told below, with what would do.
      }
      problems.add("--" + name + " is \"" + value + "\"; give a number from " + min + " to " + max);
      return null;
    }
  }
}
