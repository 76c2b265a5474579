package org.equiphase.measurement;

import static org.equiphase.web.Require.present;

import io.swagger.v3.oas.annotations.Operation;
import java.net.URI;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RestController;

/** Captures for machine clients. */
@RestController
class CaptureApi {

  private final Captures captures;

  CaptureApi(Captures captures) {
    this.captures = captures;
  }

  record CaptureRequest(
      @Nullable String serial, @Nullable Long benchId, @Nullable Double temperatureC) {}

  /** What an instrument says it is. */
  record Identity(String identity) {}

  @PostMapping("/api/v1/readings/captures")
  @Operation(
      summary = "Take a sweep from a bench's instrument and record it",
      description =
          "Answers when the sweep is done. 502 if the instrument can't be reached or answers wrongly,"
              + " 504 if it does not answer in time; nothing is stored then.")
  ResponseEntity<Reading> capture(@RequestBody CaptureRequest request) {
    Reading reading =
        captures.capture(
            present("serial", request.serial),
            present("benchId", request.benchId),
            request.temperatureC);
    return ResponseEntity.created(URI.create("/api/v1/readings/" + reading.id())).body(reading);
  }

  @PostMapping("/api/v1/catalog/instruments/{id}/connection-test")
  @Operation(summary = "Ask an instrument what it is, over its connection in the catalog")
  Identity test(@PathVariable long id) {
    return new Identity(captures.identify(id));
  }
}
