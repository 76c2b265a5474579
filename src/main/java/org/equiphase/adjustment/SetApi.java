package org.equiphase.adjustment;

import static org.equiphase.web.Require.present;

import java.time.Instant;
import java.util.List;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Sets, their plans and instructions for machine clients. */
@RestController
@RequestMapping("/api/v1")
class SetApi {

  private final Adjustments adjustments;
  private final WorkOrders workOrders;

  SetApi(Adjustments adjustments, WorkOrders workOrders) {
    this.adjustments = adjustments;
    this.workOrders = workOrders;
  }

  record SignOffRequest(
      @Nullable Integer version,
      @Nullable Double doneTrimMm,
      @Nullable Double doneSettingMm,
      @Nullable String note,
      @Nullable Instant doneAt) {}

  /** The set with every member's error and what to do about it. */
  @GetMapping("/sets/{id}")
  SetPlan set(@PathVariable long id) {
    return adjustments.plan(id);
  }

  /** All instructions ever issued for an assembly, the newest first. */
  @GetMapping("/instructions")
  List<Instruction> instructions(@RequestParam String serial) {
    return adjustments.history(workOrders.assemblyBySerial(serial).id());
  }

  @GetMapping("/instructions/{id}")
  Instruction instruction(@PathVariable long id) {
    return adjustments.instruction(id);
  }

  /** Signs off an instruction with what was really cut or set. */
  @PostMapping("/instructions/{id}/sign-off")
  Instruction signOff(@PathVariable long id, @RequestBody SignOffRequest request) {
    return adjustments.signOff(
        id,
        present("version", request.version),
        request.doneTrimMm,
        request.doneSettingMm,
        request.note == null ? "" : request.note,
        request.doneAt);
  }
}
