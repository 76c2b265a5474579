package org.equiphase.demo;

import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import org.equiphase.demo.DemoTables.Rows;
import org.equiphase.matching.Action;
import org.equiphase.matching.MemberPlan;
import org.equiphase.matching.SetSolution;

/**
 * The two panels. Panel A is half done: some members cut and measured again, some cut, some
 * instructed, one too short, one damaged. Panel B waits; its sweeps, before and after the cuts, lie
 * ready to be uploaded by hand.
 */
final class PanelWork {

  private static final double[] SWEEP_HZ = DemoDataGenerator.sweep(2.3e9, 5e6, 201);
  private static final double[] LOT_VELOCITY_FACTOR = {0.6953, 0.6949};

  private static final double[] A_LONG_BY_MM = {
    1.0, 4.1, 2.9, 6.3, 1.2, 3.4, -16, 5.2, 2.6, 4.8, 0.9, 3.9, 5.9, 3.1, 6.8, 4.4
  };
  private static final int A_DAMAGED = 11;
  private static final int A_MEASURED_AGAIN = 6;
  private static final int A_CUT = 8;

  private static final double[] B_LONG_BY_MM = {
    3.3, 1.1, 5.4, 2.7, 4.6, 6.1, 3.8, 1.3, 2.4, 5.0, 3.0, 4.2, 1.0, 6.6, 2.9, 3.6
  };
  private static final String B_CUT_TWICE = "SW-B-006";
  private static final double B_LEFT_FOR_SECOND_CUT_MM = 1.5;
  private static final double B_TEMPERATURE_C = 22.5;

  private final DemoTables tables;
  private final Rows sweeps;
  private final Rows cuts;
  private final SimulatedBench bench = new SimulatedBench(InventedShop.PANEL_BENCH);
  private final List<LocalDate> days = DemoDataGenerator.workdays();

  PanelWork(DemoTables tables, Rows sweeps, Rows cuts) {
    this.tables = tables;
    this.sweeps = sweeps;
    this.cuts = cuts;
  }

  void write() {
    panelA();
    panelB();
  }

  private void panelA() {
    Map<String, SimulatedCable> cables = cables("SW-A", A_LONG_BY_MM, A_DAMAGED);
    Map<String, List<Double>> errorDeg = new LinkedHashMap<>();
    int turn = 0;
    for (Map.Entry<String, SimulatedCable> each : cables.entrySet()) {
      Instant at = time(turn < 8 ? 0 : 1, turn % 8);
      double celsius = SimulatedBench.temperatureC(at);
      String sweep = measured(each.getKey(), each.getKey(), each.getValue(), at, celsius);
      errorDeg.put(each.getKey(), PanelPlanner.errorDeg(sweep, celsius));
      turn++;
    }
    SetSolution plan = PanelPlanner.solve(errorDeg);
    int cut = 0;
    for (MemberPlan member : plan.assemblies()) {
      if (member.action() == Action.TRIM && cut < A_CUT) {
        double doneMm =
            done(
                member.serial(),
                PanelPlanner.trimMm(
                    Objects.requireNonNull(errorDeg.get(member.serial())), plan.centerDeg()),
                0.08);
        cuts.add(time(5, cut), member.serial(), doneMm, "Offcut measured with a caliper.");
        if (cut < A_MEASURED_AGAIN) {
          Instant at = time(10, cut);
          double celsius = SimulatedBench.temperatureC(at);
          SimulatedCable left = Objects.requireNonNull(cables.get(member.serial())).cut(doneMm);
          measured(member.serial(), member.serial() + "_cut1", left, at, celsius);
        }
        cut++;
      }
    }
  }

  private String measured(
      String serial, String title, SimulatedCable cable, Instant at, double celsius) {
    String sweep = bench.transmission(title, cable, SWEEP_HZ, at, celsius);
    String file = "sweeps/" + title + ".s2p";
    tables.text(file, sweep);
    sweeps.add(at, serial, bench.bench().name(), celsius, file);
    return sweep;
  }

  private void panelB() {
    Map<String, SimulatedCable> cables = cables("SW-B", B_LONG_BY_MM, -1);
    Map<String, List<Double>> errorDeg = new LinkedHashMap<>();
    cables.forEach(
        (serial, cable) -> errorDeg.put(serial, uploaded("first/" + serial, serial, cable)));
    SetSolution plan = PanelPlanner.solve(errorDeg);
    Rows steps = new Rows("serial", "cut", "instructedTrimMm", "doneTrimMm");
    for (MemberPlan member : plan.assemblies()) {
      if (member.action() == Action.TRIM) {
        String serial = member.serial();
        double trimMm =
            PanelPlanner.trimMm(Objects.requireNonNull(errorDeg.get(serial)), plan.centerDeg());
        SimulatedCable cable = Objects.requireNonNull(cables.get(serial));
        cutB(serial, trimMm, cable, plan.centerDeg(), steps);
      }
    }
    tables.csv("uploads/cuts.csv", steps);
  }

  private void cutB(
      String serial, double trimMm, SimulatedCable cable, List<Double> centerDeg, Rows steps) {
    boolean twice = serial.equals(B_CUT_TWICE);
    double doneMm = twice ? trimMm - B_LEFT_FOR_SECOND_CUT_MM : done(serial, trimMm, 0.05);
    doneMm = hundredths(doneMm);
    steps.add(serial, 1, trimMm, doneMm);
    SimulatedCable once = cable.cut(doneMm);
    List<Double> errorDeg = uploaded("after-cut/" + serial + "_cut1", serial + "_cut1", once);
    double nextMm = PanelPlanner.trimMm(errorDeg, centerDeg);
    if (nextMm > 0) {
      double secondMm = done(serial + "_cut2", nextMm, 0.03);
      steps.add(serial, 2, nextMm, secondMm);
      uploaded("after-second-cut/" + serial + "_cut2", serial + "_cut2", once.cut(secondMm));
    }
  }

  private List<Double> uploaded(String path, String title, SimulatedCable cable) {
    Instant at = DemoDataGenerator.at(InventedShop.LAST_DAY, 15, 0);
    String sweep = bench.transmission(title, cable, SWEEP_HZ, at, B_TEMPERATURE_C);
    tables.text("uploads/" + path + ".s2p", sweep);
    return PanelPlanner.errorDeg(sweep, B_TEMPERATURE_C);
  }

  private static Map<String, SimulatedCable> cables(String prefix, double[] longByMm, int damaged) {
    Map<String, SimulatedCable> cables = new LinkedHashMap<>();
    List<String> serials = InventedOrders.serials(prefix, longByMm.length);
    for (int i = 0; i < longByMm.length; i++) {
      Random random = SimulatedBench.random(serials.get(i));
      double nearStep = 0.02 + 0.01 * random.nextDouble();
      double farStep = 0.02 + 0.01 * random.nextDouble();
      cables.put(
          serials.get(i),
          new SimulatedCable(
              InventedShop.SEMI_RIGID,
              InventedOrders.REFERENCE_TEMPERATURE_C,
              InventedOrders.PANEL.specification().nominalLengthMm()
                  + longByMm[i]
                  + 0.05 * random.nextGaussian(),
              LOT_VELOCITY_FACTOR[i * LOT_VELOCITY_FACTOR.length / longByMm.length],
              0,
              // A crushed connector shell at each end.
              i == damaged ? 0.3 : nearStep,
              i == damaged ? 0.33 : farStep));
    }
    return cables;
  }

  /** What a cut really takes off: no saw is exact. */
  private static double done(String serial, double trimMm, double spreadMm) {
    double missMm = spreadMm * SimulatedBench.random("cut " + serial).nextGaussian();
    return Math.rint((trimMm + missMm) * 20) / 20;
  }

  private static double hundredths(double mm) {
    return Math.rint(mm * 100) / 100;
  }

  private Instant time(int day, int turn) {
    return DemoDataGenerator.at(days.get(day), 8 + turn / 6, 10 * (turn % 6));
  }
}
