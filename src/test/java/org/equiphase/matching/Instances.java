package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;

/** Small problems of every kind, drawn from a seed. */
final class Instances {

  private static final double SPEED_OF_LIGHT = 299_792_458;

  private Instances() {}

  static SetProblem draw(long seed, int maxMembers, int maxFrequencies) {
    Random random = new Random(seed);
    int members = 1 + random.nextInt(maxMembers);
    int frequencies = 1 + random.nextInt(maxFrequencies);
    Turns turns = random.nextBoolean() ? Turns.ABSOLUTE : Turns.MODULO_360;
    Basis basis =
        switch (random.nextInt(4)) {
          case 0 -> Basis.NOMINAL;
          case 1 -> Basis.MASTER;
          default -> Basis.SET;
        };
    double aimFraction = random.nextBoolean() ? 1 : 0.3 + 0.7 * random.nextDouble();
    double guardFraction = random.nextBoolean() ? 0 : 0.4 * random.nextDouble();
    // Errors on a grid bring exact ties and members exactly at a limit
    boolean grid = random.nextInt(3) == 0;
    double toleranceDeg = grid ? 2 : 2 + 6 * random.nextDouble();
    if (turns == Turns.MODULO_360 && random.nextInt(8) == 0) {
      toleranceDeg = 30 + 100 * random.nextDouble();
    }
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < frequencies; k++) {
      double hz = 1e9 * (1 + 2 * k + random.nextInt(2));
      double here = grid ? toleranceDeg : toleranceDeg * (0.7 + 0.6 * random.nextDouble());
      limits.add(new FrequencyLimit(hz, here, grid ? 0 : guardFraction * here));
    }
    double spreadMm = 4 + 30 * random.nextDouble();
    double rippleDeg = random.nextDouble() * toleranceDeg;
    double reachMm = spreadMm * (0.3 + random.nextDouble());
    if (turns == Turns.MODULO_360 && random.nextInt(3) == 0) {
      reachMm += 200;
    }
    List<Member> assemblies = new ArrayList<>();
    for (int i = 0; i < members; i++) {
      double lengthMm = (random.nextDouble() - 0.3) * spreadMm;
      List<Double> errors = new ArrayList<>();
      for (FrequencyLimit limit : limits) {
        double error = -360 * limit.frequencyHz() * lengthMm / SPEED_OF_LIGHT / 1000;
        error += (2 * random.nextDouble() - 1) * rippleDeg;
        errors.add(grid ? Math.rint(error) : error);
      }
      int kit = random.nextInt(6);
      StretchRange stretcher =
          switch (kit) {
            case 0, 1 -> new StretchRange(-reachMm * random.nextDouble(), reachMm);
            case 2 -> new StretchRange(reachMm * (random.nextDouble() - 0.8), reachMm);
            default -> null;
          };
      double allowanceMm = kit == 1 || kit > 2 ? (kit == 5 ? 0 : reachMm) : 0;
      assemblies.add(
          new Member(serial(i), 0.66 + 0.2 * random.nextDouble(), errors, allowanceMm, stretcher));
    }
    String master = basis == Basis.MASTER ? serial(random.nextInt(members)) : null;
    return new SetProblem(basis, master, turns, aimFraction, limits, assemblies);
  }

  private static String serial(int i) {
    return "S" + (char) ('A' + i);
  }
}
