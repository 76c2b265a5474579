package org.equiphase.measurement;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.LineStretcher;
import org.equiphase.rf.SmithChart;
import org.jspecify.annotations.Nullable;

/**
 * What other settings of the line stretcher would do to a reading.
 *
 * @param presentMm the reading of its scale now, at which nothing is added
 * @param firstMm lowest mark of the scale, and lastMm highest
 * @param lengths readings and electrical lengths, mm, between which the length runs straight
 * @param states some settings at each frequency, the present one first
 * @param maybeMoved the stretcher may have been set since the reading, so that the reading was not
 *     taken at the present setting
 */
record StretcherRehearsal(
    String name,
    double presentMm,
    double firstMm,
    double lastMm,
    double resolutionMm,
    double lockMinMm,
    double lockMaxMm,
    String lengths,
    List<State> states,
    boolean maybeMoved) {

  private static final int SETTINGS_SHOWN = 5;

  /**
   * One setting at one frequency.
   *
   * @param addedMm electrical length added from the present setting on
   * @param phaseChangeDeg of the one-way phase
   * @param gamma Γ seen through the added line; null where it was not measured
   * @param impedanceOhm of that Γ; null where infinite or not known
   */
  record State(
      double frequencyHz,
      double settingMm,
      double addedMm,
      double phaseChangeDeg,
      @Nullable Complex gamma,
      @Nullable Complex impedanceOhm) {}

  StretcherRehearsal {
    states = List.copyOf(states);
  }

  /** At least one mark must be there. */
  static StretcherRehearsal of(
      String name,
      LineStretcher stretcher,
      double presentMm,
      ReflectionChart chart,
      boolean maybeMoved) {
    List<Double> marks = stretcher.marksMm(SETTINGS_SHOWN);
    TreeSet<Double> others = new TreeSet<>(marks);
    others.remove(presentMm);
    List<State> states = new ArrayList<>();
    for (ReflectionChart.Mark mark : chart.marks()) {
      states.add(state(stretcher, presentMm, presentMm, mark, chart.referenceOhm()));
      for (double settingMm : others) {
        states.add(state(stretcher, presentMm, settingMm, mark, chart.referenceOhm()));
      }
    }
    return new StretcherRehearsal(
        name,
        presentMm,
        marks.get(0),
        marks.get(marks.size() - 1),
        stretcher.resolutionMm(),
        stretcher.lockMinMm(),
        stretcher.lockMaxMm(),
        stretcher.cornersMm().stream()
            .map(readingMm -> readingMm + ":" + stretcher.electricalLengthMm(readingMm))
            .collect(Collectors.joining(" ")),
        states,
        maybeMoved);
  }

  private static State state(
      LineStretcher stretcher,
      double presentMm,
      double settingMm,
      ReflectionChart.Mark mark,
      double referenceOhm) {
    double addedMm = stretcher.addedElectricalLengthMm(presentMm, settingMm);
    Length added = Length.ofMillimetres(addedMm);
    Frequency frequency = Frequency.ofHertz(mark.frequencyHz());
    Complex measured = mark.gamma();
    Complex gamma = measured == null ? null : SmithChart.turned(measured, frequency, added);
    return new State(
        mark.frequencyHz(),
        settingMm,
        addedMm,
        SmithChart.phaseChangeDeg(frequency, added),
        gamma,
        gamma == null ? null : ReflectionChart.impedance(gamma, referenceOhm));
  }
}
