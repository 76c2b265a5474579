package org.equiphase.traveler;

import java.util.List;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Step;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.web.Format;
import org.equiphase.workorder.Specification;

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
        new Step("Cut", length(), "length, mm"),
        new Step("Strip", "Both ends; no nick in the conductors", ""),
        new Step("Terminate end A", specification.connector() + "; look at the joint", ""),
        new Step("Precondition", "As the shop's procedure says, then rest", "cycles"),
        new Step("Measure", measure(), "reading no."),
        trimOrSet(task),
        new Step("Re-measure", measure(), "reading no."),
        new Step("Mark", "Serial number and position, after the last cut", ""),
        new Step("Final inspection", "Phase, loss, workmanship, marking, caps on", ""));
  }

  private Step trimOrSet(Task task) {
    return switch (task.kind()) {
      case CUT -> new Step("Trim", task.text() + " at end B; terminate it again", "really cut, mm");
      case SET -> new Step("Set", task.text() + "; lock it", "really set, mm");
      default -> new Step("Trim or set", task.text(), "mm");
    };
  }

  private String length() {
    String nominal = "nominal " + format.plain(specification.nominalLengthMm()) + " mm, ";
    return specification.trimAllowanceMm() == 0
        ? "Cable to its length; " + nominal + "nothing is trimmed later"
        : "Cable to its rough length; "
            + nominal
            + "trim allowance "
            + format.plain(specification.trimAllowanceMm())
            + " mm";
  }

  private String measure() {
    String torque = torque();
    return "Brought to "
        + format.plain(specification.referenceTemperatureC())
        + " °C"
        + (torque.isEmpty() ? "" : "; connectors at " + torque);
  }

  /** The coupling torque with its unit; empty where the order gives none. */
  private String torque() {
    Double torqueNm = specification.connectorTorqueNm();
    return torqueNm == null ? "" : format.plain(torqueNm) + " N·m";
  }

  List<Caution> cautions() {
    String torque = torque();
    return List.of(
        new Caution(
            "A cut cannot be undone.",
            "Check serial number, instruction and length on screen before cutting. In doubt, cut"
                + " less and measure again."),
        new Caution(
            "Blades and sharp ends.",
            "Wear eye protection, cut away from the body, clear away strands and offcuts."),
        new Caution(
            "Solder.",
            "Work under fume extraction, keep clear of the hot iron and joint, wash hands before"
                + " eating."),
        new Caution(
            "RF power.",
            "Make sure the transmitter is off and secured before a cable is opened or connected;"
                + " never look into or touch an open end under power."),
        new Caution(
            "Connector torque.",
            (torque.isEmpty()
                    ? "The order gives none: take it from the connector's maker."
                    : "Couple to " + torque + ".")
                + " Use a calibrated wrench, turn the nut and not the body; too much torque ruins"
                + " the connector."),
        new Caution(
            "What comes first.",
            "Shop rules, makers' instructions and local codes go before this sheet; work reserved"
                + " for licensed persons stays with them."));
  }
}
