package org.equiphase.traveler;

import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.equiphase.rf.FirstCut;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Step;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.ScanCode;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** What the steps of a route say on a sheet, and the cautions that go with them. */
final class StepWords {

  private final Specification specification;
  private final Format format;

  StepWords(Specification specification, Format format) {
    this.specification = specification;
    this.format = format;
  }

  /**
   * The steps of a sheet.
   *
   * @param firstCut of the assembly; null where none can be told
   * @param sheet the code of the sheet, which each step's own code goes on from
   * @param done steps signed off on screen, by their numbers
   */
  List<Step> steps(
      Route route,
      Task task,
      @Nullable FirstCut firstCut,
      ScanCode sheet,
      Map<Long, Steps.Done> done) {
    return route.steps().stream()
        .map(
            step -> {
              ScanCode code = sheet.ofStep(step.number());
              Steps.Done signed = done.get(step.number());
              return new Step(
                  step.number(),
                  code.toString(),
                  name(step.kind(), task),
                  what(step.kind(), task, firstCut),
                  step.instruction(),
                  step.asksValue() ? value(step.kind(), task) : null,
                  signed == null
                      ? null
                      : Sentence.of("traveler.step.signed", signed.by(), format.time(signed.at())));
            })
        .toList();
  }

  private static Sentence name(StepKind kind, Task task) {
    return kind == StepKind.TRIM && task.kind() == Task.Kind.CUT
        ? Sentence.of("traveler.step.trim")
        : kind == StepKind.TRIM && task.kind() == Task.Kind.SET
            ? Sentence.of("traveler.step.set")
            : kind.title();
  }

  private Sentence what(StepKind kind, Task task, @Nullable FirstCut firstCut) {
    return switch (kind) {
      case CUT -> length(firstCut);
      case STRIP -> Sentence.of("traveler.step.bothEnds");
      case TERMINATE_A -> Sentence.of("traveler.step.joint", specification.connector());
      case PRECONDITION -> Sentence.of("traveler.step.procedure");
      case MEASURE, REMEASURE -> measure();
      case TRIM ->
          switch (task.kind()) {
            case CUT -> Sentence.of("traveler.step.trimAtEndB", task.text());
            case SET -> Sentence.of("traveler.step.setAndLock", task.text());
            default -> task.text();
          };
      case TERMINATE_B -> Sentence.of("traveler.step.lastJoint");
      case MARK -> Sentence.of("traveler.step.afterLastCut");
      case FINAL -> Sentence.of("traveler.step.inspected");
    };
  }

  private static Sentence value(StepKind kind, Task task) {
    return kind == StepKind.TRIM && task.kind() == Task.Kind.CUT
        ? Sentence.of("traveler.step.reallyCutMm")
        : kind == StepKind.TRIM && task.kind() == Task.Kind.SET
            ? Sentence.of("traveler.step.reallySetMm")
            : kind.value();
  }

  private Sentence length(@Nullable FirstCut cut) {
    return cut == null
        ? Sentence.of("traveler.step.toNominal", format.plain(specification.nominalLengthMm()))
        : Sentence.of(
            specification.trimAllowanceMm() == 0
                ? "traveler.step.toLength"
                : "traveler.step.toRoughLength",
            format.plain(cut.cutMm()),
            format.decimals(cut.finishedMm(), 1),
            format.decimals(cut.finishedSpreadMm(), 1));
  }

  private Sentence measure() {
    String celsius = format.plain(specification.referenceTemperatureC());
    Sentence torque = torque();
    return torque == null
        ? Sentence.of("traveler.step.broughtTo", celsius)
        : Sentence.of("traveler.step.broughtToCoupled", celsius, torque);
  }

  /** The coupling torque with its unit; null where the order gives none. */
  private @Nullable Sentence torque() {
    Double torqueNm = specification.connectorTorqueNm();
    return torqueNm == null ? null : Sentence.of("traveler.torque", format.plain(torqueNm));
  }

  /** The cautions of a sheet. */
  List<Caution> cautions(Route route) {
    boolean heated = route.steps().stream().anyMatch(s -> s.kind() == StepKind.PRECONDITION);
    return Stream.of("cut", "blades", "solder", "chamber", "power", "torque", "first")
        .filter(name -> heated || !name.equals("chamber"))
        .map(this::caution)
        .toList();
  }

  /** What can go wrong at a step. */
  List<Caution> cautions(StepKind kind) {
    return kind.cautions().stream().map(this::caution).toList();
  }

  private Caution caution(String name) {
    String key = "traveler.caution." + name;
    Sentence torque = torque();
    return new Caution(
        Sentence.of(key),
        !name.equals("torque")
            ? Sentence.of(key + "Text")
            : torque == null
                ? Sentence.of("traveler.caution.torqueUnknown")
                : Sentence.of("traveler.caution.torqueGiven", torque));
  }
}
