package org.equiphase.demo;

import static org.equiphase.demo.DemoFiles.list;
import static org.equiphase.demo.DemoFiles.number;
import static org.equiphase.demo.DemoFiles.points;
import static org.equiphase.demo.DemoFiles.table;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.catalog.Adapter;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Budget;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.EndStandard;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.equiphase.catalog.ReferenceCable;
import org.equiphase.catalog.ScpiConnection;

/**
 * Brings the catalog files into the catalog.
 *
 * @param cableTypeIds stored ids in the order of the file's rows; so for the others
 */
record DemoCatalog(List<Long> cableTypeIds, List<Long> lineStretcherIds) {

  /**
   * @param shift what brings a day of the files to the present
   * @param connections one for each instrument
   */
  static DemoCatalog load(
      Catalog catalog, UnaryOperator<LocalDate> shift, Supplier<ScpiConnection> connections) {
    List<Long> cableTypeIds = new ArrayList<>();
    for (CSVRecord row : table("catalog/cable-types.csv")) {
      cableTypeIds.add(catalog.save(cableType(row)).id());
    }
    for (CSVRecord row : table("catalog/end-standards.csv")) {
      catalog.save(endStandard(row));
    }
    for (CSVRecord row : table("catalog/adapters.csv")) {
      catalog.save(
          new Adapter(
              0,
              0,
              row.get("name"),
              number(row, "delayPs"),
              number(row, "lossDbAt1Ghz"),
              row.get("note")));
    }
    List<Long> lineStretcherIds = new ArrayList<>();
    for (CSVRecord row : table("catalog/line-stretchers.csv")) {
      lineStretcherIds.add(catalog.save(lineStretcher(row, shift)).id());
    }
    for (CSVRecord row : table("catalog/instruments.csv")) {
      catalog.save(
          new Instrument(
              0,
              0,
              row.get("name"),
              row.get("serialNumber"),
              number(row, "phaseStandardUncertaintyDeg"),
              shift.apply(LocalDate.parse(row.get("calibrationDue"))),
              row.get("note"),
              connections.get()));
    }
    for (CSVRecord row : table("catalog/benches.csv")) {
      catalog.save(bench(row, catalog, shift));
    }
    return new DemoCatalog(List.copyOf(cableTypeIds), List.copyOf(lineStretcherIds));
  }

  private static CableType cableType(CSVRecord row) {
    return new CableType(
        0,
        0,
        row.get("name"),
        number(row, "velocityFactor"),
        number(row, "velocityFactorTolerance"),
        number(row, "impedanceOhm"),
        number(row, "skinLossDbPerM"),
        number(row, "dielectricLossDbPerM"),
        points(row, "temperatureCurve").stream()
            .map(p -> new TemperaturePoint(p[0], p[1]))
            .toList(),
        row.get("note"));
  }

  private static EndStandard endStandard(CSVRecord row) {
    return new EndStandard(
        0,
        0,
        row.get("name"),
        EndStandard.Kind.valueOf(row.get("kind")),
        number(row, "offsetDelayPs"),
        number(row, "offsetLossDb"),
        list(row, "coefficients").stream().map(Double::valueOf).toList(),
        row.get("note"));
  }

  private static LineStretcher lineStretcher(CSVRecord row, UnaryOperator<LocalDate> shift) {
    String due = row.get("calibrationDue");
    return new LineStretcher(
        0,
        0,
        row.get("name"),
        LineStretcher.Geometry.valueOf(row.get("geometry")),
        number(row, "airIndex"),
        number(row, "minMm"),
        number(row, "maxMm"),
        number(row, "lockMinMm"),
        number(row, "lockMaxMm"),
        number(row, "resolutionMm"),
        points(row, "calibration").stream().map(p -> new CalibrationPoint(p[0], p[1])).toList(),
        due.isEmpty() ? null : shift.apply(LocalDate.parse(due)),
        row.get("note"));
  }

  private static Bench bench(CSVRecord row, Catalog catalog, UnaryOperator<LocalDate> shift) {
    String end = row.get("endStandard");
    return new Bench(
        0,
        0,
        row.get("name"),
        catalog.instrumentByName(row.get("instrument")).orElseThrow(),
        end.isEmpty() ? null : catalog.endStandardByName(end).orElseThrow(),
        list(row, "adapters").stream()
            .map(name -> catalog.adapterByName(name).orElseThrow())
            .toList(),
        new ReferenceCable(
            catalog.cableTypeByName(row.get("referenceCableType")).orElseThrow(),
            number(row, "referenceCableLengthMm")),
        number(row, "driftLimitDeg"),
        Integer.parseInt(row.get("referenceIntervalMin")),
        budget(row, "transmission"),
        budget(row, "reflection"),
        shift.apply(LocalDate.parse(row.get("calibrationDue"))),
        row.get("note"));
  }

  private static Budget budget(CSVRecord row, String way) {
    return new Budget(
        null,
        number(row, way + "ConnectorDeg"),
        number(row, way + "FlexureDeg"),
        number(row, way + "TemperatureC"));
  }
}
