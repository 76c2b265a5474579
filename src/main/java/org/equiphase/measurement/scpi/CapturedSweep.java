package org.equiphase.measurement.scpi;

import java.util.List;
import org.equiphase.rf.Complex;

/**
 * A sweep as the instrument gave it.
 *
 * @param identity what the instrument says it is; empty where it was not asked
 * @param frequenciesHz ascending
 * @param values one list for each parameter asked for, in that order, with a value per frequency
 */
public record CapturedSweep(
    String identity, List<Double> frequenciesHz, List<List<Complex>> values) {

  public CapturedSweep {
    frequenciesHz = List.copyOf(frequenciesHz);
    values = values.stream().map(List::copyOf).toList();
  }
}
