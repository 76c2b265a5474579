package org.equiphase.measurement;

import static org.equiphase.web.Require.present;

import java.time.Instant;
import java.util.List;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Reference-cable checks for machine clients. */
@RestController
@RequestMapping("/api/v1/reference-checks")
class ReferenceCheckApi {

  private static final int MOST = 500;

  private final ReferenceChecks checks;

  ReferenceCheckApi(ReferenceChecks checks) {
    this.checks = checks;
  }

  record CheckRequest(
      @Nullable Long benchId,
      @Nullable String cableSerial,
      @Nullable Method method,
      @Nullable Double frequencyHz,
      @Nullable Double phaseDeg,
      @Nullable Double temperatureC,
      @Nullable Instant takenAt) {}

  /** A bench's last checks, the newest first. */
  @GetMapping
  List<ReferenceCheck> checks(@RequestParam long benchId) {
    return checks.checks(benchId, MOST);
  }

  @PostMapping
  @ResponseStatus(HttpStatus.CREATED)
  ReferenceCheck record(@RequestBody CheckRequest request) {
    return checks.record(
        present("benchId", request.benchId),
        present("cableSerial", request.cableSerial),
        request.method == null ? Method.TRANSMISSION : request.method,
        present("frequencyHz", request.frequencyHz),
        present("phaseDeg", request.phaseDeg),
        present("temperatureC", request.temperatureC),
        request.takenAt);
  }
}
