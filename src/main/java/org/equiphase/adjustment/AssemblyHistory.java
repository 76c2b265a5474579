package org.equiphase.adjustment;

import java.util.List;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.workorder.Assembly;
import org.springframework.stereotype.Component;

/** Everything measured of, and asked for, one assembly. */
@Component
public class AssemblyHistory {

  /** Readings and instructions, each the newest first. */
  public record History(List<Reading> readings, List<Instruction> instructions) {}

  private final Readings readings;
  private final Adjustments adjustments;

  AssemblyHistory(Readings readings, Adjustments adjustments) {
    this.readings = readings;
    this.adjustments = adjustments;
  }

  public History of(Assembly assembly) {
    return new History(readings.history(assembly.id()), adjustments.history(assembly.id()));
  }
}
