package org.equiphase;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

/** Starts the service. */
@SpringBootApplication
public class EquiphaseApplication {
  public static void main(String[] args) {
    SpringApplication.run(EquiphaseApplication.class, args);
  }
}
