package org.equiphase.rf.touchstone;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.rf.Complex;

/** Gathers noise parameters; they are magnitude and angle whatever the option line says. */
final class NoiseBlock {
  static final int VALUES = 5;

  private final FrequencyUnit unit;
  private final double resistanceUnitOhm;
  private final int maxPoints;
  private final List<NoisePoint> points = new ArrayList<>();

  /**
   * @param resistanceUnitOhm what the noise resistance is a multiple of: R in version 1, 1 Ω later
   */
  NoiseBlock(FrequencyUnit unit, double resistanceUnitOhm, int maxPoints) {
    this.unit = unit;
    this.resistanceUnitOhm = resistanceUnitOhm;
    this.maxPoints = maxPoints;
  }

  List<NoisePoint> points() {
    return points;
  }

  void add(Tokens tokens, int line) {
    if (tokens.size() != VALUES) {
      throw new TouchstoneException(
          line,
          "noise data",
          "the line holds " + tokens.size() + " numbers, but noise parameters have " + VALUES);
    }
    double hertz = Numbers.parseFrequencyHz(tokens.get(0), unit, line);
    if (!points.isEmpty() && hertz <= points.get(points.size() - 1).frequencyHz()) {
      throw new TouchstoneException(line, "frequency", "noise frequencies must ascend");
    }
    if (points.size() >= maxPoints) {
      throw new TouchstoneException(
          line, "noise data", "the file has more than " + maxPoints + " points, the most read");
    }
    double magnitude = Numbers.parse(tokens.get(2), line, "optimum reflection");
    double resistance = Numbers.parse(tokens.get(4), line, "noise resistance");
    if (magnitude < 0 || resistance < 0) {
      throw new TouchstoneException(
          line, "noise data", "the magnitude and the resistance must be 0 or more");
    }
    points.add(
        new NoisePoint(
            hertz,
            Numbers.parse(tokens.get(1), line, "minimum noise figure"),
            Complex.ofPolarDeg(magnitude, Numbers.parse(tokens.get(3), line, "optimum reflection")),
            resistance * resistanceUnitOhm));
  }
}
