package org.equiphase.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.equiphase.catalog.Adapter;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.EndStandard;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.LineStretcher;

/** Writes the files of the demo shop below one folder. */
record DemoTables(Path folder) {

  /** Rows of one CSV file. */
  static final class Rows {
    private final List<List<String>> rows = new ArrayList<>();

    Rows(String... header) {
      rows.add(List.of(header));
    }

    void add(Object... cells) {
      rows.add(
          Stream.of(cells)
              .map(c -> c instanceof Double number ? plain(number) : c.toString())
              .toList());
    }
  }

  void text(String name, String content) {
    Path file = folder.resolve(name);
    try {
      Files.createDirectories(file.getParent());
      Files.writeString(file, content, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  void csv(String name, Rows rows) {
    StringBuilder content = new StringBuilder();
    CSVFormat format = CSVFormat.DEFAULT.builder().setRecordSeparator("\n").get();
    try (CSVPrinter printer = new CSVPrinter(content, format)) {
      printer.printRecords(rows.rows);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    text(name, content.toString());
  }

  void catalog() {
    Rows types =
        new Rows(
            "name",
            "velocityFactor",
            "velocityFactorTolerance",
            "impedanceOhm",
            "skinLossDbPerM",
            "dielectricLossDbPerM",
            "temperatureCurve",
            "note");
    for (CableType t : InventedShop.CABLE_TYPES) {
      String curve =
          t.temperatureCurve().stream()
              .map(p -> plain(p.temperatureC()) + ": " + plain(p.lengthPpm()))
              .collect(Collectors.joining("; "));
      types.add(
          t.name(),
          t.velocityFactor(),
          t.velocityFactorTolerance(),
          t.impedanceOhm(),
          t.skinLossDbPerM(),
          t.dielectricLossDbPerM(),
          curve,
          t.note());
    }
    csv("catalog/cable-types.csv", types);

    Rows ends = new Rows("name", "kind", "offsetDelayPs", "offsetLossDb", "coefficients", "note");
    for (EndStandard e : InventedShop.END_STANDARDS) {
      String coefficients =
          e.coefficients().stream().map(DemoTables::plain).collect(Collectors.joining("; "));
      ends.add(e.name(), e.kind(), e.offsetDelayPs(), e.offsetLossDb(), coefficients, e.note());
    }
    csv("catalog/end-standards.csv", ends);

    Rows adapters = new Rows("name", "delayPs", "lossDbAt1Ghz", "note");
    for (Adapter a : InventedShop.ADAPTERS) {
      adapters.add(a.name(), a.delayPs(), a.lossDbAt1Ghz(), a.note());
    }
    csv("catalog/adapters.csv", adapters);
    stretchers();

    Rows instruments =
        new Rows("name", "serialNumber", "phaseStandardUncertaintyDeg", "calibrationDue", "note");
    for (Instrument i : InventedShop.INSTRUMENTS) {
      instruments.add(
          i.name(),
          i.serialNumber(),
          i.phaseStandardUncertaintyDeg(),
          i.calibrationDue(),
          i.note());
    }
    csv("catalog/instruments.csv", instruments);
    benches();
  }

  private void stretchers() {
    Rows rows =
        new Rows(
            "name",
            "geometry",
            "airIndex",
            "minMm",
            "maxMm",
            "lockMinMm",
            "lockMaxMm",
            "resolutionMm",
            "calibration",
            "calibrationDue",
            "note");
    for (LineStretcher s : InventedShop.LINE_STRETCHERS) {
      String calibration =
          s.calibration().stream()
              .map(p -> plain(p.readingMm()) + ": " + plain(p.electricalLengthMm()))
              .collect(Collectors.joining("; "));
      rows.add(
          s.name(),
          s.geometry(),
          s.airIndex(),
          s.minMm(),
          s.maxMm(),
          s.lockMinMm(),
          s.lockMaxMm(),
          s.resolutionMm(),
          calibration,
          s.calibrationDue() == null ? "" : s.calibrationDue(),
          s.note());
    }
    csv("catalog/line-stretchers.csv", rows);
  }

  private void benches() {
    Rows rows =
        new Rows(
            "name",
            "instrument",
            "endStandard",
            "adapters",
            "referenceCableType",
            "referenceCableLengthMm",
            "driftLimitDeg",
            "referenceIntervalMin",
            "transmissionConnectorDeg",
            "transmissionFlexureDeg",
            "transmissionTemperatureC",
            "reflectionConnectorDeg",
            "reflectionFlexureDeg",
            "reflectionTemperatureC",
            "calibrationDue",
            "note");
    for (Bench b : InventedShop.BENCHES) {
      rows.add(
          b.name(),
          b.instrument().name(),
          b.endStandard() == null ? "" : b.endStandard().name(),
          b.adapters().stream().map(Adapter::name).collect(Collectors.joining("; ")),
          Objects.requireNonNull(b.referenceCable()).cableType().name(),
          b.referenceCable().lengthMm(),
          b.driftLimitDeg(),
          b.referenceIntervalMin(),
          b.transmissionBudget().connectorDeg(),
          b.transmissionBudget().flexureDeg(),
          b.transmissionBudget().temperatureC(),
          b.reflectionBudget().connectorDeg(),
          b.reflectionBudget().flexureDeg(),
          b.reflectionBudget().temperatureC(),
          b.calibrationDue(),
          b.note());
    }
    csv("catalog/benches.csv", rows);
  }

  private static String plain(double value) {
    BigDecimal exact = new BigDecimal(Double.toString(value)).stripTrailingZeros();
    return exact.signum() == 0 ? "0" : exact.toPlainString();
  }
}
