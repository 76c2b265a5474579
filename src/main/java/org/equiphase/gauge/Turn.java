package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
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
    SplittableRandom random = new SplittableRandom(study.seed());
    List<Turn> turns = List.of();
    for (int each = 0; each <= appraiser; each++) {
      turns = drawn(study, each, random);
    }
    return turns;
  }

  /** No part twice running: it would be measured without being connected anew. */
  private static List<Turn> drawn(Study study, int appraiser, SplittableRandom random) {
    List<Turn> turns = new ArrayList<>();
    int last = -1;
    for (int trial = 0; trial < study.trials(); trial++) {
      List<Integer> parts =
          new ArrayList<>(IntStream.range(0, study.parts().size()).boxed().toList());
      do {
        shuffle(parts, random);
      } while (parts.get(0) == last);
      for (int part : parts) {
        turns.add(new Turn(part, appraiser, trial));
        last = part;
      }
    }
    return List.copyOf(turns);
  }

  /** Fisher and Yates; the JDK's own takes no such generator before Java 21. */
  private static void shuffle(List<Integer> parts, SplittableRandom random) {
    for (int i = parts.size() - 1; i > 0; i--) {
      Collections.swap(parts, i, random.nextInt(i + 1));
    }
  }
}
