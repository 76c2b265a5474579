package org.equiphase.demo;

import java.time.LocalDate;
import java.util.List;
import org.equiphase.catalog.Adapter;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Budget;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.catalog.EndStandard;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.equiphase.catalog.ReferenceCable;

/** What the invented shop owns. All figures are invented, of the size usual for such things. */
final class InventedShop {

  /** The last day of work in the files. */
  static final LocalDate LAST_DAY = LocalDate.of(2026, 6, 26);

  static final String NAME = "Quarrendale Cable Works";

  private static final String NOTE = "Invented, " + NAME + " (invented).";

  static final CableType SEMI_RIGID =
      new CableType(
          1,
          0,
          "Semi-rigid 3.6 mm PTFE (invented)",
          0.695,
          0.003,
          50,
          0.36,
          0.012,
          // PTFE has a knee near 19 °C, where its crystals change (common knowledge, no source).
          curve(0, 330, 10, 215, 15, 150, 18, 92, 20, 42, 22, 18, 25, 0, 30, -18, 40, -40),
          NOTE);

  static final CableType FOAM =
      new CableType(
          2,
          0,
          "Flexible 10 mm foam PE (invented)",
          0.83,
          0.006,
          50,
          0.14,
          0.004,
          curve(0, 120, 10, 55, 20, 8, 25, 0, 30, -12, 40, -60),
          NOTE);

  static final CableType JUMPER =
      new CableType(
          3,
          0,
          "Flexible 5 mm expanded PTFE (invented)",
          0.76,
          0.003,
          50,
          0.24,
          0.01,
          curve(0, 190, 10, 120, 15, 85, 18, 50, 20, 24, 22, 10, 25, 0, 30, -8, 40, -20),
          NOTE);

  static final EndStandard OPEN =
      new EndStandard(
          1,
          0,
          "Open O-1 (invented)",
          EndStandard.Kind.OPEN,
          17.4,
          0.003,
          List.of(52.0, -120.0, 22.0, -0.4),
          NOTE);

  static final EndStandard SHORT =
      new EndStandard(
          2,
          0,
          "Short S-1 (invented)",
          EndStandard.Kind.SHORT,
          17.6,
          0.003,
          List.of(2.1, -90.0, 2.0, -0.02),
          NOTE);

  static final Adapter ADAPTER_A =
      new Adapter(1, 0, "Adapter A, small to medium bore (invented)", 62.4, 0.04, NOTE);
  static final Adapter ADAPTER_B =
      new Adapter(2, 0, "Adapter B, medium to large bore (invented)", 118.0, 0.03, NOTE);

  static final LineStretcher STRAIGHT =
      new LineStretcher(
          1,
          0,
          "Straight line stretcher LS-1 (invented)",
          LineStretcher.Geometry.STRAIGHT,
          1.00027,
          0,
          60,
          1,
          59,
          0.1,
          List.of(),
          null,
          NOTE);

  static final LineStretcher FOLDED =
      new LineStretcher(
          2,
          0,
          "Folded line stretcher LF-1 (invented)",
          LineStretcher.Geometry.FOLDED,
          1.00027,
          0,
          140,
          5,
          135,
          0.5,
          List.of(
              new CalibrationPoint(0, 412.0),
              new CalibrationPoint(20, 452.3),
              new CalibrationPoint(40, 492.1),
              new CalibrationPoint(60, 532.2),
              new CalibrationPoint(80, 571.9),
              new CalibrationPoint(100, 612.1),
              new CalibrationPoint(120, 652.4),
              new CalibrationPoint(140, 692.2)),
          LAST_DAY.plusDays(120),
          NOTE);

  static final Instrument ANALYZER_1 = analyzer(1, 0.15, 200);
  static final Instrument ANALYZER_2 = analyzer(2, 0.2, 12);
  static final Instrument ANALYZER_3 = analyzer(3, 0.3, -5);

  static final Bench PANEL_BENCH =
      new Bench(
          1,
          0,
          "Bench 1, S-band",
          ANALYZER_1,
          null,
          List.of(ADAPTER_A),
          new ReferenceCable(SEMI_RIGID, 1000),
          0.5,
          240,
          new Budget(null, 0.15, 0.1, 0.3),
          Budget.INSTRUMENT_ONLY,
          LAST_DAY.plusDays(90),
          NOTE);

  static final Bench REFLECTION_BENCH =
      new Bench(
          2,
          0,
          "Bench 2, reflection",
          ANALYZER_2,
          OPEN,
          List.of(ADAPTER_B),
          new ReferenceCable(FOAM, 1000),
          0.5,
          240,
          Budget.INSTRUMENT_ONLY,
          new Budget(null, 0.1, 0.1, 0.3),
          LAST_DAY.plusDays(140),
          NOTE);

  static final Bench JUMPER_BENCH =
      new Bench(
          3,
          0,
          "Bench 3, X-band",
          ANALYZER_3,
          null,
          List.of(),
          new ReferenceCable(JUMPER, 1000),
          1.0,
          240,
          new Budget(null, 0.35, 0.25, 0.3),
          Budget.INSTRUMENT_ONLY,
          LAST_DAY.plusDays(60),
          NOTE);

  static final List<CableType> CABLE_TYPES = List.of(SEMI_RIGID, FOAM, JUMPER);
  static final List<EndStandard> END_STANDARDS = List.of(OPEN, SHORT);
  static final List<Adapter> ADAPTERS = List.of(ADAPTER_A, ADAPTER_B);
  static final List<LineStretcher> LINE_STRETCHERS = List.of(STRAIGHT, FOLDED);
  static final List<Instrument> INSTRUMENTS = List.of(ANALYZER_1, ANALYZER_2, ANALYZER_3);
  static final List<Bench> BENCHES = List.of(PANEL_BENCH, REFLECTION_BENCH, JUMPER_BENCH);

  private InventedShop() {}

  private static Instrument analyzer(int number, double uncertaintyDeg, int daysToCalibration) {
    return new Instrument(
        number,
        0,
        "Network analyzer " + number + " (invented)",
        "NA-" + number,
        uncertaintyDeg,
        LAST_DAY.plusDays(daysToCalibration),
        NOTE);
  }

  private static List<TemperaturePoint> curve(double... celsiusAndPpm) {
    TemperaturePoint[] points = new TemperaturePoint[celsiusAndPpm.length / 2];
    for (int i = 0; i < points.length; i++) {
      points[i] = new TemperaturePoint(celsiusAndPpm[2 * i], celsiusAndPpm[2 * i + 1]);
    }
    return List.of(points);
  }
}
