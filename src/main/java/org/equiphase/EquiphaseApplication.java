package org.equiphase;

import java.util.List;
import org.equiphase.station.StationCommand;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

/** Starts the service or, where the first argument is {@code station}, a bench's station. */
@SpringBootApplication
public class EquiphaseApplication {
  public static void main(String[] args) {
    if (args.length > 0 && args[0].equals("station")) {
      System.exit(StationCommand.run(List.of(args).subList(1, args.length), System.out));
    }
    SpringApplication.run(EquiphaseApplication.class, args);
  }
}
