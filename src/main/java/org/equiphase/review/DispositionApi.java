package org.equiphase.review;

import static org.equiphase.web.Require.present;

import org.equiphase.workorder.Assembly;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** QA's decisions for machine clients. */
@RestController
@RequestMapping("/api/v1/review/assemblies/{serial}")
class DispositionApi {

  private final Dispositions dispositions;

  DispositionApi(Dispositions dispositions) {
    this.dispositions = dispositions;
  }

  record Reason(@Nullable String reason) {}

  record Replacement(@Nullable String newSerial, @Nullable String reason) {}

  @PostMapping("/hold")
  Assembly hold(@PathVariable String serial, @RequestBody Reason request) {
    return dispositions.hold(serial, present("reason", request.reason));
  }

  @PostMapping("/release")
  Assembly release(@PathVariable String serial, @RequestBody Reason request) {
    return dispositions.release(serial, present("reason", request.reason));
  }

  /** Answers the assembly that is now at the position. */
  @PostMapping("/replace")
  Assembly replace(@PathVariable String serial, @RequestBody Replacement request) {
    return dispositions.replace(
        serial, present("newSerial", request.newSerial), present("reason", request.reason));
  }
}
