package org.equiphase.traveler;

import java.time.Instant;
import java.util.List;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.measurement.Reading;
import org.equiphase.sheet.Code128;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.ScanCode;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/**
 * What one print shows, as the order stood at one moment. The PDF and the workbooks are written
 * from this alone.
 *
 * @param sets set sheets, each followed by the sheets of its members
 * @param single sheets of assemblies outside of these sets
 */
record SheetData(Heading heading, List<SetSheet> sets, List<AssemblySheet> single) {

  SheetData {
    sets = List.copyOf(sets);
    single = List.copyOf(single);
  }

  /** All assembly sheets in the order in which they are printed. */
  List<AssemblySheet> assemblies() {
    List<AssemblySheet> all = new java.util.ArrayList<>();
    sets.forEach(set -> all.addAll(set.members()));
    all.addAll(single);
    return all;
  }

  /** The sheets of sets alone. */
  SheetData setsOnly() {
    return new SheetData(
        heading,
        sets.stream()
            .map(set -> new SetSheet(set.set(), set.waitingFor(), set.members(), false))
            .toList(),
        List.of());
  }

  /** The sheet of one assembly alone. */
  SheetData only(AssemblySheet assembly) {
    return new SheetData(heading, List.of(), List.of(assembly));
  }

  /** What all sheets of the print have in common. */
  record Heading(
      WorkOrder order,
      CableType cableType,
      @Nullable LineStretcher stretcher,
      Sentence method,
      Sentence decisionRule,
      Instant printedAt,
      List<Caution> cautions) {

    Heading {
      cautions = List.copyOf(cautions);
    }
  }

  /** What can hurt someone or ruin a part, and what to do about it. */
  record Caution(Sentence title, Sentence text) {}

  /**
   * A set.
   *
   * @param withMembers whether the sheets of its members follow
   */
  record SetSheet(
      MatchedSet set, List<String> waitingFor, List<AssemblySheet> members, boolean withMembers) {

    SetSheet {
      waitingFor = List.copyOf(waitingFor);
      members = List.copyOf(members);
    }
  }

  /**
   * One assembly.
   *
   * @param code the code of this sheet
   * @param set and position: null in the pool and after replacement
   * @param reading the reading that the task comes from; null without one
   * @param spots one per frequency of the specification
   */
  record AssemblySheet(
      Assembly assembly,
      ScanCode code,
      @Nullable MatchedSet set,
      @Nullable SetPosition position,
      Task task,
      @Nullable Reading reading,
      List<Spot> spots,
      List<Step> steps) {

    private static final double CODE_COLUMN_MM = 55;

    AssemblySheet {
      spots = List.copyOf(spots);
      steps = List.copyOf(steps);
    }

    public Code128 barcode() {
      return Code128.of(code.toString());
    }

    /** Whether the codes of its steps are too long to stand beside them. */
    public boolean isWide() {
      return steps.stream().anyMatch(step -> step.barcode().leastMm() > CODE_COLUMN_MM);
    }

    /** The predicted error farthest from zero, or null without a plan. */
    public @Nullable Double worstPredictedErrorDeg() {
      return worst(spots.stream().map(Spot::predictedErrorDeg).toList());
    }

    /** The present error farthest from zero, or null without a plan. */
    public @Nullable Double worstErrorDeg() {
      return worst(spots.stream().map(Spot::errorDeg).toList());
    }

    private static @Nullable Double worst(List<@Nullable Double> errorsDeg) {
      Double worst = null;
      for (Double error : errorsDeg) {
        if (error != null && (worst == null || Math.abs(error) > Math.abs(worst))) {
          worst = error;
        }
      }
      return worst;
    }
  }

  /**
   * What to do to an assembly.
   *
   * @param text the action in large type
   * @param reason a sentence, or what a person wrote
   * @param instructionId number of the instruction behind it; null where there is none
   * @param cutMm length to cut off; null where nothing is cut
   * @param settingMm stretcher reading to set; null where nothing is set
   */
  record Task(
      Kind kind,
      Sentence text,
      Object reason,
      @Nullable Long instructionId,
      @Nullable Double cutMm,
      @Nullable Double settingMm) {

    enum Kind {
      CUT("traveler.fact.toCut"),
      SET("traveler.fact.toSet"),
      MEASURE("traveler.fact.toMeasure"),
      MEASURE_AGAIN("traveler.fact.toMeasureAgain"),
      WAIT("traveler.fact.waiting"),
      NONE("traveler.fact.nothingToDo"),
      HOLD("traveler.fact.onHold"),
      REPLACED("traveler.fact.replaced");

      private final String countKey;

      Kind(String countKey) {
        this.countKey = countKey;
      }

      /** Key of what the number of such assemblies is called. */
      String countKey() {
        return countKey;
      }
    }

    /** The cut in inches; null where nothing is cut. */
    @Nullable Double cutIn() {
      return cutMm == null ? null : cutMm / 25.4;
    }

    /** Whether the sheet tells someone to change the part. */
    public boolean changesPart() {
      return kind == Kind.CUT || kind == Kind.SET;
    }
  }

  /**
   * One frequency. What is not known yet is null.
   *
   * @param acceptanceDeg half-width of the window: tolerance less guard band
   * @param predictedDeg insertion phase expected after the task
   */
  record Spot(
      double frequencyHz,
      double toleranceDeg,
      @Nullable Double acceptanceDeg,
      @Nullable Double targetDeg,
      @Nullable Double measuredDeg,
      @Nullable Double errorDeg,
      @Nullable Double predictedDeg,
      @Nullable Double predictedErrorDeg) {}

  /**
   * A step of the route, signed off by hand or by a scan of its code.
   *
   * @param own the shop's own words; empty for none
   * @param value what to write into its box, with the unit; null for nothing
   * @param signed who signed it off on screen and when; null where nobody has
   */
  record Step(
      long number,
      String code,
      Sentence name,
      Sentence what,
      String own,
      @Nullable Sentence value,
      @Nullable Sentence signed) {

    public Code128 barcode() {
      return Code128.of(code);
    }
  }
}
