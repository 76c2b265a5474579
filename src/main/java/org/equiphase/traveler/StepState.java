package org.equiphase.traveler;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.time.Instant;
import org.equiphase.adjustment.Instruction;
import org.equiphase.measurement.Reading;
import org.equiphase.traveler.Route.RouteStep;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * How one step of an assembly stands.
 *
 * @param by and at: who did it and when; null where it is not done
 * @param proof what the service knows it from; null where it was signed off by a scan or is not
 *     done
 * @param signOffId what to withdraw where it was signed off by a scan; else null
 * @param onRoute false for a step that was signed off and has left the route since
 */
public record StepState(
    RouteStep step,
    Status status,
    @Nullable String by,
    @Nullable Instant at,
    @Nullable Sentence proof,
    @Nullable Long signOffId,
    boolean onRoute) {

  public enum Status {
    DONE,
    OPEN,
    /** In tolerance without a cut. */
    NOT_NEEDED
  }

  /** The number of the step and what it is called. */
  public Sentence title() {
    return step.title();
  }

  /** Whether a scan may sign it off. */
  @JsonIgnore
  public boolean isToSign() {
    return status == Status.OPEN && !step.kind().isKnown();
  }

  static StepState open(RouteStep step) {
    return new StepState(step, Status.OPEN, null, null, null, null, true);
  }

  static StepState notNeeded(RouteStep step) {
    return new StepState(step, Status.NOT_NEEDED, null, null, null, null, true);
  }

  static StepState signed(Steps.Done done, boolean onRoute) {
    return new StepState(done.step(), Status.DONE, done.by(), done.at(), null, done.id(), onRoute);
  }

  static StepState read(RouteStep step, Reading reading) {
    return new StepState(
        step,
        Status.DONE,
        reading.recordedBy(),
        reading.takenAt(),
        Sentence.of("traveler.steps.reading", reading.id() + ""),
        null,
        true);
  }

  static StepState worked(RouteStep step, Instruction instruction) {
    Instruction.Done done = instruction.done();
    return new StepState(
        step,
        Status.DONE,
        done == null ? null : done.by(),
        done == null ? null : done.at(),
        Sentence.of("traveler.steps.instruction", instruction.id() + ""),
        null,
        true);
  }
}
