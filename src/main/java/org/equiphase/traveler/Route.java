package org.equiphase.traveler;

import java.util.List;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Step;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** The usual route of an assembly through the shop, and the cautions that go with it. */
final class Route {

  private final Specification specification;
  private final Format format;

  Route(Specification specification, Format format) {
    this.specification = specification;
    this.format = format;
  }

  List<Step> steps(Task task) {
    return List.of(
        step("traveler.step.cut", length(), "traveler.step.lengthMm"),
        step("traveler.step.strip", Sentence.of("traveler.step.bothEnds"), null),
        step(
            "traveler.step.terminate",
            Sentence.of("traveler.step.joint", specification.connector()),
            null),
        step(
            "traveler.step.precondition",
            Sentence.of("traveler.step.procedure"),
            "traveler.step.cycles"),
        step("traveler.step.measure", measure(), "traveler.step.readingNumber"),
        trimOrSet(task),
        step("traveler.step.remeasure", measure(), "traveler.step.readingNumber"),
        step("traveler.step.mark", Sentence.of("traveler.step.afterLastCut"), null),
        step("traveler.step.final", Sentence.of("traveler.step.inspected"), null));
  }

  private static Step step(String nameKey, Sentence what, @Nullable String valueKey) {
    return new Step(Sentence.of(nameKey), what, valueKey == null ? null : Sentence.of(valueKey));
  }

  private static Step trimOrSet(Task task) {
    return switch (task.kind()) {
      case CUT ->
          step(
              "traveler.step.trim",
              Sentence.of("traveler.step.trimAtEndB", task.text()),
              "traveler.step.reallyCutMm");
      case SET ->
          step(
              "traveler.step.set",
              Sentence.of("traveler.step.setAndLock", task.text()),
              "traveler.step.reallySetMm");
      default -> step("traveler.step.trimOrSet", task.text(), "traveler.step.mm");
    };
  }

  private Sentence length() {
    String nominalMm = format.plain(specification.nominalLengthMm());
    return specification.trimAllowanceMm() == 0
        ? Sentence.of("traveler.step.toLength", nominalMm)
        : Sentence.of(
            "traveler.step.toRoughLength",
            nominalMm,
            format.plain(specification.trimAllowanceMm()));
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

  List<Caution> cautions() {
    Sentence torque = torque();
    return List.of(
        caution("traveler.caution.cut", Sentence.of("traveler.caution.cutText")),
        caution("traveler.caution.blades", Sentence.of("traveler.caution.bladesText")),
        caution("traveler.caution.solder", Sentence.of("traveler.caution.solderText")),
        caution("traveler.caution.power", Sentence.of("traveler.caution.powerText")),
        caution(
            "traveler.caution.torque",
            torque == null
                ? Sentence.of("traveler.caution.torqueUnknown")
                : Sentence.of("traveler.caution.torqueGiven", torque)),
        caution("traveler.caution.first", Sentence.of("traveler.caution.firstText")));
  }

  private static Caution caution(String titleKey, Sentence text) {
    return new Caution(Sentence.of(titleKey), text);
  }
}
