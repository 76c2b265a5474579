package org.equiphase.traveler;

import org.equiphase.sheet.Facts;
import org.equiphase.sheet.Words;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;

/** What the sheets of a workbook say of an order and its specification. */
final class OrderFacts {

  private OrderFacts() {}

  static void order(Facts facts, WorkOrder order) {
    facts.add("traveler.fact.order", order.number());
    facts.add("traveler.fact.revision", order.revision());
    facts.add("traveler.due", order.dueOn() == null ? "" : order.dueOn().toString());
  }

  static void specification(Facts facts, Words words, Heading heading) {
    Specification s = heading.order().specification();
    facts.add("traveler.cableType", heading.cableType().name());
    facts.add("traveler.fact.velocityFactor", heading.cableType().velocityFactor());
    facts.add("traveler.fact.connector", s.connector());
    facts.add("traveler.fact.torqueNm", s.connectorTorqueNm());
    facts.add("traveler.method", words.say(heading.method()));
    facts.add("traveler.fact.basis", s.basis().name());
    facts.add("traveler.fact.turns", s.turns().name());
    facts.add("traveler.fact.nominalLengthMm", s.nominalLengthMm());
    facts.add("traveler.fact.lengthToleranceMm", s.nominalLengthToleranceMm());
    facts.add("traveler.fact.trimAllowanceMm", s.trimAllowanceMm());
    facts.add("traveler.fact.cutStepMm", s.cutResolutionMm());
    if (heading.stretcher() != null) {
      facts.add("traveler.lineStretcher", heading.stretcher().name());
      facts.add("traveler.fact.fittedAtMm", s.stretcherStartMm());
    }
    facts.add("traveler.fact.referenceTemperatureC", s.referenceTemperatureC());
    facts.add("traveler.decisionRule", words.say(heading.decisionRule()));
  }
}
