package org.equiphase.traveler;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.util.List;
import org.equiphase.web.Sentence;

/**
 * The way of an assembly through the shop, step by step.
 *
 * @param retired whether it is no longer offered to orders
 */
public record Route(long id, int version, String name, boolean retired, List<RouteStep> steps) {

  /** The route of orders for which none was chosen. */
  static final long STANDARD = 1;

  public Route {
    steps = List.copyOf(steps);
  }

  /** Whether it is the route of orders for which none was chosen. */
  @JsonIgnore
  public boolean isStandard() {
    return id == STANDARD;
  }

  /**
   * A step.
   *
   * @param number what it is known by for good, on all sheets; never given to another step
   * @param instruction the shop's own words; empty for none
   * @param asksValue whether a value is written on paper
   */
  public record RouteStep(long number, StepKind kind, String instruction, boolean asksValue) {

    /** The number and what it is called. */
    Sentence title() {
      return Sentence.of("traveler.steps.title", number + "", kind.title());
    }
  }
}
