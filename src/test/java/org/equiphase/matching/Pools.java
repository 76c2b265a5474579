package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;

/** Pools of every kind, drawn from a seed. */
public final class Pools {

  private static final double SPEED_OF_LIGHT = 299_792_458;

  private Pools() {}

  /** Small pools: with and without spares, limits on loss, and cuts. */
  static PoolProblem draw(long seed, int mostCandidates, int mostFrequencies) {
    Random random = new Random(seed);
    int frequencies = 1 + random.nextInt(mostFrequencies);
    boolean loss = random.nextInt(3) == 0;
    boolean cuts = random.nextInt(3) == 0;
    // Errors on a grid bring exact ties and members exactly at a limit
    boolean grid = random.nextInt(3) == 0;
    List<PoolLimit> limits = new ArrayList<>();
    for (int k = 0; k < frequencies; k++) {
      double tolerance = grid ? 2 : 1 + 3 * random.nextDouble();
      Double spreadDb = loss && random.nextBoolean() ? 0.1 + 0.2 * random.nextDouble() : null;
      limits.add(new PoolLimit(1e9 * (1 + 2 * k), tolerance, spreadDb));
    }
    List<Candidate> candidates = new ArrayList<>();
    int count = random.nextInt(mostCandidates + 1);
    for (int i = 0; i < count; i++) {
      double lengthMm = 2 * random.nextGaussian();
      List<Double> errors = new ArrayList<>();
      List<Double> losses = new ArrayList<>();
      List<Double> perM = new ArrayList<>();
      for (PoolLimit limit : limits) {
        double error = -360 * limit.frequencyHz() * lengthMm / SPEED_OF_LIGHT / 1000;
        error += random.nextGaussian();
        errors.add(grid ? Math.rint(error) : error);
        losses.add(1 + 0.1 * random.nextGaussian());
        // Far more than any cable loses, so that cuts run into the limit on loss
        perM.add(random.nextInt(2) * 30 * random.nextDouble());
      }
      Cut cut =
          cuts && random.nextBoolean()
              ? new Cut(0.6 + 0.3 * random.nextDouble(), 5 * random.nextDouble(), perM)
              : null;
      candidates.add(new Candidate("S" + (char) ('A' + i), errors, loss ? losses : null, cut));
    }
    int setSize = 2 + random.nextInt(3);
    return new PoolProblem(setSize, random.nextInt(4) / 3, limits, candidates);
  }

  /**
   * A pool as a shop has it: a length error that shows in proportion to frequency, and ripple of
   * each frequency's own.
   *
   * @param lengthSigmaDeg standard deviation of the length error at the highest frequency
   * @param rippleSigmaDeg standard deviation of the ripple
   */
  public static PoolProblem shop(
      long seed,
      int count,
      int frequencies,
      int setSize,
      double toleranceDeg,
      double lengthSigmaDeg,
      double rippleSigmaDeg) {
    Random random = new Random(seed);
    List<PoolLimit> limits = new ArrayList<>();
    for (int k = 1; k <= frequencies; k++) {
      limits.add(new PoolLimit(k * 1e9, toleranceDeg, null));
    }
    List<Candidate> candidates = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double lengthDeg = lengthSigmaDeg * random.nextGaussian();
      List<Double> errors = new ArrayList<>();
      for (int k = 1; k <= frequencies; k++) {
        errors.add(lengthDeg * k / frequencies + rippleSigmaDeg * random.nextGaussian());
      }
      candidates.add(Candidate.of(String.format("C%07d", i), errors));
    }
    return new PoolProblem(setSize, 0, limits, candidates);
  }
}
