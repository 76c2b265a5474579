package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;

/**
 * One measurement that a study asks for; part, appraiser and trial are counted from 0.
 *
 * <p>Each appraiser goes through all parts once per trial, each time in another order, so that
 * neither habit nor memory of the last value goes along (AIAG, Measurement Systems Analysis, 4th
 * edition, asks for random order).
 */
record Turn(int part, int appraiser, int trial) {

  /** The turns of one appraiser in their order; the same for the same study. */
  static List<Turn> of(Study study, int appraiser) {
    List<Turn> turns = new ArrayList<>();
    for (int trial = 0; trial < study.trials(); trial++) {
      List<Integer> parts =
          new ArrayList<>(IntStream.range(0, study.parts().size()).boxed().toList());
      Collections.shuffle(parts, new Random(study.seed() + 1_000L * appraiser + trial));
      for (int part : parts) {
        turns.add(new Turn(part, appraiser, trial));
      }
    }
    return List.copyOf(turns);
  }
}
