package org.equiphase.traveler;

import java.util.List;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What a step of a route is about. Three of them the service knows by itself: a reading was logged,
 * an instruction was signed off.
 */
public enum StepKind {
  CUT("traveler.step.lengthMm", "cut", "blades"),
  STRIP(null, "blades"),
  TERMINATE_A(null, "solder"),
  PRECONDITION("traveler.step.cycles", "chamber"),
  MEASURE("traveler.step.readingNumber", "power", "torque"),
  TRIM("traveler.step.mm", "cut", "blades"),
  TERMINATE_B(null, "solder"),
  REMEASURE("traveler.step.readingNumber", "power", "torque"),
  MARK(null),
  FINAL(null, "torque");

  private final @Nullable String valueKey;
  private final List<String> cautions;

  StepKind(@Nullable String valueKey, String... cautions) {
    this.valueKey = valueKey;
    this.cautions = List.of(cautions);
  }

  /** What the step is called where no task is known. */
  public Sentence title() {
    return Sentence.of("traveler.kind." + name());
  }

  /** What is written into its box on paper. */
  Sentence value() {
    return Sentence.of(valueKey == null ? "traveler.value" : valueKey);
  }

  /** Keys of what can go wrong here, as the sheets name them. */
  List<String> cautions() {
    return cautions;
  }

  /**
   * Whether it is done by what the service knows, and then never by a scan. Such a step can't be
   * passed over: what follows builds upon it.
   */
  public boolean isKnown() {
    return this == MEASURE || this == TRIM || this == REMEASURE;
  }
}
