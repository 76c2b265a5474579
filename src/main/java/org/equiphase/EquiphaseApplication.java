package org.equiphase;

import java.util.List;
import java.util.Map;
import org.equiphase.operation.RestoreCommand;
import org.equiphase.station.StationCommand;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.ConfigurableApplicationContext;

/**
 * Starts the service, or what the first argument names: {@code station} a bench's station, {@code
 * restore} the restoring of a backup.
 */
@SpringBootApplication
public class EquiphaseApplication {
  public static void main(String[] args) {
    if (args.length > 0 && args[0].equals("station")) {
      System.exit(StationCommand.run(List.of(args).subList(1, args.length), System.out));
    }
    if (args.length > 0 && args[0].equals("restore")) {
      List<String> rest = List.of(args).subList(1, args.length);
      System.exit(RestoreCommand.run(rest, System.out, EquiphaseApplication::start));
    }
    SpringApplication.run(EquiphaseApplication.class, args);
  }

  private static ConfigurableApplicationContext start(Map<String, String> settings) {
    String[] arguments =
        settings.entrySet().stream()
            .map(setting -> "--" + setting.getKey() + "=" + setting.getValue())
            .toArray(String[]::new);
    return SpringApplication.run(EquiphaseApplication.class, arguments);
  }
}
