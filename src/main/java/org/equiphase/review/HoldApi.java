package org.equiphase.review;

import static org.equiphase.web.Require.present;

import org.equiphase.workorder.Assembly;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** QA's holds for machine clients. */
@RestController
@RequestMapping("/api/v1/review/assemblies/{serial}")
class HoldApi {

  private final Holds holds;

  HoldApi(Holds holds) {
    this.holds = holds;
  }

  record Reason(@Nullable String reason) {}

  @PostMapping("/hold")
  Assembly hold(@PathVariable String serial, @RequestBody Reason request) {
    return holds.hold(serial, present("reason", request.reason));
  }

  @PostMapping("/release")
  Assembly release(@PathVariable String serial, @RequestBody Reason request) {
    return holds.release(serial, present("reason", request.reason));
  }
}
