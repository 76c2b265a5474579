package org.equiphase.demo;

import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.OrderDraft;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.equiphase.workorder.Specification;

/** What the invented customers ask for. */
final class InventedOrders {

  static final double REFERENCE_TEMPERATURE_C = 23;
  static final double STRETCHER_START_MM = 70;
  private static final double TEMPERATURE_LOW_C = -20;
  private static final double TEMPERATURE_HIGH_C = 55;

  static final OrderDraft PANEL =
      new OrderDraft(
          "QCW-1001",
          "S-band weather panel, 16 channels (invented, " + InventedShop.NAME + ")",
          InventedShop.LAST_DAY.plusDays(14),
          "SR-2611",
          new Specification(
              InventedShop.SEMI_RIGID.id(),
              "3.5 mm bore, threaded",
              0.9,
              8,
              5,
              Method.TRANSMISSION,
              Basis.SET,
              Turns.ABSOLUTE,
              1100,
              15,
              null,
              12,
              0.1,
              0.1,
              0.02,
              null,
              null,
              0.3,
              null,
              REFERENCE_TEMPERATURE_C,
              TEMPERATURE_LOW_C,
              TEMPERATURE_HIGH_C,
              DecisionRule.GUARDED,
              1,
              List.of(panel(2.76e9), panel(2.80e9), panel(2.84e9))),
          List.of(set("Panel A", "SW-A", 16), set("Panel B", "SW-B", 16)),
          List.of());

  static final OrderDraft UHF =
      new OrderDraft(
          "QCW-1002",
          "UHF array feed, 8 channels (invented, " + InventedShop.NAME + ")",
          InventedShop.LAST_DAY.plusDays(21),
          "FM-2604",
          new Specification(
              InventedShop.FOAM.id(),
              "7 mm bore, threaded",
              1.4,
              14,
              9,
              Method.REFLECTION_OPEN,
              Basis.SET,
              Turns.MODULO_360,
              2400,
              25,
              null,
              0,
              0.1,
              0,
              0.02,
              InventedShop.FOLDED.id(),
              STRETCHER_START_MM,
              0.4,
              null,
              REFERENCE_TEMPERATURE_C,
              TEMPERATURE_LOW_C,
              TEMPERATURE_HIGH_C,
              DecisionRule.GUARDED,
              1,
              List.of(new FrequencySpecification(432e6, 2, 0.5, 0.2, null))),
          List.of(set("Feed 1", "UH", 8)),
          List.of());

  static final OrderDraft JUMPERS =
      new OrderDraft(
          "QCW-1003",
          "X-band jumpers for stock, 60 pieces (invented, " + InventedShop.NAME + ")",
          InventedShop.LAST_DAY.plusDays(30),
          "JP-2609",
          new Specification(
              InventedShop.JUMPER.id(),
              "3.5 mm bore, threaded",
              0.9,
              8,
              5,
              Method.TRANSMISSION,
              Basis.SET,
              Turns.ABSOLUTE,
              300,
              4,
              null,
              0,
              0.1,
              0,
              0.02,
              null,
              null,
              0.3,
              1.4,
              REFERENCE_TEMPERATURE_C,
              TEMPERATURE_LOW_C,
              TEMPERATURE_HIGH_C,
              DecisionRule.GUARDED,
              1,
              List.of(jumper(8e9, 4), jumper(9.4e9, 4.7), jumper(10e9, 5), jumper(12e9, 6))),
          List.of(),
          serials("XJ", 60));

  static final OrderDraft DRIVERS =
      new OrderDraft(
          "QCW-1004",
          "S-band driver feeds, 2 sets of 4 (invented, " + InventedShop.NAME + ")",
          InventedShop.LAST_DAY.plusDays(4),
          "SR-2608",
          new Specification(
              InventedShop.SEMI_RIGID.id(),
              "3.5 mm bore, threaded",
              0.9,
              8,
              5,
              Method.TRANSMISSION,
              Basis.SET,
              Turns.ABSOLUTE,
              640,
              6,
              null,
              6,
              0.1,
              0.1,
              0.02,
              null,
              null,
              0.3,
              1.5,
              REFERENCE_TEMPERATURE_C,
              TEMPERATURE_LOW_C,
              TEMPERATURE_HIGH_C,
              DecisionRule.GUARDED,
              1,
              List.of(new FrequencySpecification(2.8e9, 3, 0.8, null, null))),
          List.of(drivers("Feed 1", 0), drivers("Feed 2", 4)),
          List.of());

  private InventedOrders() {}

  static List<String> serials(String prefix, int count) {
    return IntStream.rangeClosed(1, count)
        .mapToObj(i -> String.format(Locale.ROOT, "%s-%03d", prefix, i))
        .toList();
  }

  private static SetDraft drivers(String name, int first) {
    return set(name, serials("DF", 8).subList(first, first + 4));
  }

  private static SetDraft set(String name, String prefix, int count) {
    return set(name, serials(prefix, count));
  }

  private static SetDraft set(String name, List<String> serials) {
    return new SetDraft(
        name,
        null,
        IntStream.range(0, serials.size())
            .mapToObj(i -> new PositionDraft("CH" + (i + 1), serials.get(i), 0, 0))
            .toList());
  }

  private static FrequencySpecification panel(double frequencyHz) {
    return new FrequencySpecification(frequencyHz, 3, 1.1, 0.3, null);
  }

  private static FrequencySpecification jumper(double frequencyHz, double toleranceDeg) {
    return new FrequencySpecification(frequencyHz, toleranceDeg, 0.5, null, null);
  }
}
