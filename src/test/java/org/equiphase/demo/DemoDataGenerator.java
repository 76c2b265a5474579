package org.equiphase.demo;

import com.fasterxml.jackson.annotation.JsonInclude;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.equiphase.demo.DemoTables.Rows;
import org.equiphase.demo.SimulatedBench.Shown;
import org.equiphase.rf.Method;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.OrderDraft;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * Writes the files of demo-data: an invented shop's catalog, its orders, and three weeks of
 * simulated readings. The same files come out each time.
 */
public final class DemoDataGenerator {

  private static final int WEEKS = 3;
  private static final double[] UHF_SWEEP_HZ = sweep(332e6, 2e6, 101);

  private final DemoTables tables;
  private final Rows sweeps = new Rows("takenAt", "serial", "bench", "temperatureC", "file");
  private final Rows cuts = new Rows("doneAt", "serial", "doneTrimMm", "note");
  private final Rows typed =
      new Rows(
          "takenAt",
          "serial",
          "bench",
          "temperatureC",
          "frequencyHz",
          "phaseDeg",
          "insertionLossDb",
          "vswr");

  private DemoDataGenerator(Path folder) {
    this.tables = new DemoTables(folder);
  }

  public static void main(String[] arguments) {
    write(Path.of("demo-data"));
  }

  /** Writes all files but the README below a folder. */
  static void write(Path folder) {
    new DemoDataGenerator(folder).write();
  }

  private void write() {
    tables.catalog();
    order("orders/weather-panel.json", InventedOrders.PANEL);
    order("orders/uhf-array.json", InventedOrders.UHF);
    order("orders/x-band-jumpers.json", InventedOrders.JUMPERS);
    order("orders/driver-feeds.json", InventedOrders.DRIVERS);
    referenceChecks();
    new PanelWork(tables, sweeps, cuts).write();
    uhf();
    jumpers();
    drivers();
    tables.csv("typed-readings.csv", typed);
    tables.csv("sweeps.csv", sweeps);
    tables.csv("cuts.csv", cuts);
  }

  private void order(String name, OrderDraft order) {
    JsonMapper mapper =
        JsonMapper.builder()
            .changeDefaultPropertyInclusion(
                inclusion -> inclusion.withValueInclusion(JsonInclude.Include.NON_NULL))
            .enable(SerializationFeature.INDENT_OUTPUT)
            .build();
    tables.text(name, mapper.writeValueAsString(order).replace("\r\n", "\n") + "\n");
  }

  /** Every bench looks at its reference cable twice a day. */
  private void referenceChecks() {
    double[] frequencyHz = {2.8e9, 432e6, 10e9};
    Rows rows =
        new Rows(
            "takenAt", "bench", "cableSerial", "method", "frequencyHz", "phaseDeg", "temperatureC");
    for (LocalDate day : workdays()) {
      for (int hour : new int[] {7, 13}) {
        for (int b = 0; b < frequencyHz.length; b++) {
          SimulatedBench bench = new SimulatedBench(InventedShop.BENCHES.get(b));
          SimulatedCable cable =
              new SimulatedCable(
                  InventedShop.CABLE_TYPES.get(b),
                  InventedOrders.REFERENCE_TEMPERATURE_C,
                  1000,
                  InventedShop.CABLE_TYPES.get(b).velocityFactor(),
                  0,
                  0.02,
                  0.02);
          Instant at = at(day, hour, 30 + b);
          double celsius = SimulatedBench.temperatureC(at);
          String title = "REF-" + (b + 1);
          double phaseDeg = bench.shown(title + at, cable, frequencyHz[b], at, celsius).phaseDeg();
          rows.add(
              at,
              bench.bench().name(),
              title,
              Method.TRANSMISSION,
              frequencyHz[b],
              phaseDeg,
              celsius);
        }
      }
    }
    tables.csv("reference-checks.csv", rows);
  }

  /** The UHF feed as first measured: its settings are issued, none is made yet. */
  private void uhf() {
    SimulatedBench bench = new SimulatedBench(InventedShop.REFLECTION_BENCH);
    double airLineMm =
        InventedShop.FOLDED.toRf().electricalLengthMm(InventedOrders.STRETCHER_START_MM);
    double[] longBy = {0.5, -11, 14, 3, -4, 9, -16, 6};
    LocalDate day = workdays().get(7);
    for (int i = 0; i < longBy.length; i++) {
      String serial = InventedOrders.serials("UH", longBy.length).get(i);
      Random random = SimulatedBench.random(serial);
      SimulatedCable cable =
          new SimulatedCable(
              InventedShop.FOAM,
              InventedOrders.REFERENCE_TEMPERATURE_C,
              InventedOrders.UHF.specification().nominalLengthMm() + longBy[i],
              0.831 + 0.0004 * random.nextGaussian(),
              airLineMm,
              0.01 + 0.003 * random.nextGaussian(),
              0);
      Instant at = at(day, 9, 10 * i % 60).plusSeconds(i < 6 ? 0 : 3600);
      double celsius = SimulatedBench.temperatureC(at);
      String file = "sweeps/" + serial + ".s1p";
      tables.text(file, bench.reflection(serial, cable, UHF_SWEEP_HZ, at, celsius));
      sweeps.add(at, serial, bench.bench().name(), celsius, file);
    }
  }

  /** Four jumpers a day, read off the screen at each frequency. */
  private void jumpers() {
    SimulatedBench bench = new SimulatedBench(InventedShop.JUMPER_BENCH);
    double[] lotVelocityFactor = {0.7604, 0.7597, 0.7609};
    List<String> serials = InventedOrders.JUMPERS.poolSerials();
    List<LocalDate> days = workdays();
    for (int i = 0; i < serials.size(); i++) {
      String serial = serials.get(i);
      Random random = SimulatedBench.random(serial);
      SimulatedCable cable =
          new SimulatedCable(
              InventedShop.JUMPER,
              InventedOrders.REFERENCE_TEMPERATURE_C,
              InventedOrders.JUMPERS.specification().nominalLengthMm()
                  + 0.25 * random.nextGaussian(),
              lotVelocityFactor[i / 20],
              0,
              0.03 + 0.01 * random.nextDouble(),
              0.03 + 0.01 * random.nextDouble());
      typed(
          bench,
          serial,
          cable,
          at(days.get(i / 4), 10 + i % 4, 15),
          InventedOrders.JUMPERS.specification().frequencies());
    }
  }

  /** Two feeds made close enough to need no cut; one cable of the second has a bad connector. */
  private void drivers() {
    SimulatedBench bench = new SimulatedBench(InventedShop.PANEL_BENCH);
    double[] longByMm = {0.12, -0.08, 0.03, -0.15, 0.21, 0.06, -0.11, 0.17};
    int badConnector = 5;
    for (int i = 0; i < longByMm.length; i++) {
      String serial = InventedOrders.serials("DF", longByMm.length).get(i);
      SimulatedCable cable =
          new SimulatedCable(
              InventedShop.SEMI_RIGID,
              InventedOrders.REFERENCE_TEMPERATURE_C,
              InventedOrders.DRIVERS.specification().nominalLengthMm() + longByMm[i],
              0.6958,
              0,
              0.02,
              i == badConnector ? 0.45 : 0.025);
      typed(
          bench,
          serial,
          cable,
          at(workdays().get(12), 14 + i / 6, 10 * (i % 6)),
          InventedOrders.DRIVERS.specification().frequencies());
    }
  }

  private void typed(
      SimulatedBench bench,
      String serial,
      SimulatedCable cable,
      Instant at,
      List<FrequencySpecification> frequencies) {
    double celsius = SimulatedBench.temperatureC(at);
    for (FrequencySpecification f : frequencies) {
      Shown shown = bench.shown(serial, cable, f.frequencyHz(), at, celsius);
      typed.add(
          at,
          serial,
          bench.bench().name(),
          celsius,
          f.frequencyHz(),
          shown.phaseDeg(),
          shown.insertionLossDb(),
          shown.vswr());
    }
  }

  /** The working days of the three weeks, the last one last. */
  static List<LocalDate> workdays() {
    List<LocalDate> days = new ArrayList<>();
    for (LocalDate day = InventedShop.LAST_DAY.minusWeeks(WEEKS).plusDays(1);
        !day.isAfter(InventedShop.LAST_DAY);
        day = day.plusDays(1)) {
      if (day.getDayOfWeek().compareTo(DayOfWeek.SATURDAY) < 0) {
        days.add(day);
      }
    }
    return days;
  }

  static Instant at(LocalDate day, int hour, int minute) {
    return day.atTime(LocalTime.of(hour, minute)).toInstant(ZoneOffset.UTC);
  }

  static double[] sweep(double startHz, double stepHz, int points) {
    double[] frequencyHz = new double[points];
    for (int i = 0; i < points; i++) {
      frequencyHz[i] = startHz + i * stepHz;
    }
    return frequencyHz;
  }
}
