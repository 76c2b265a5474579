package org.equiphase.process;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.util.List;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.Words;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springdoc.core.annotations.ParameterObject;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** The data of each chart as a file, for people and machine clients alike. */
@RestController
@RequestMapping({"/process", "/api/v1/process"})
@Tag(name = "Process")
class ProcessDownloads {

  private final ProcessReports reports;

  ProcessDownloads(ProcessReports reports) {
    this.reports = reports;
  }

  @GetMapping("/chart.csv")
  @Operation(summary = "The values of a control chart with limits and patterns")
  ResponseEntity<byte[]> chartCsv(@ModelAttribute @ParameterObject ChartFilter filter) {
    return csv(filter.what().name(), chart(filter));
  }

  @GetMapping("/chart.xlsx")
  @Operation(summary = "The values of a control chart with limits and patterns")
  ResponseEntity<byte[]> chartXlsx(
      @ModelAttribute @ParameterObject ChartFilter filter, Locale locale) {
    return xlsx(
        filter.what().name(), "process.what." + filter.what().name(), chart(filter), locale);
  }

  @GetMapping("/yield.csv")
  @Operation(summary = "First-pass yield with its 95 % bounds")
  ResponseEntity<byte[]> yieldCsv(@ModelAttribute @ParameterObject ChartFilter filter) {
    return csv("first-pass-yield", yieldTable(filter));
  }

  @GetMapping("/yield.xlsx")
  @Operation(summary = "First-pass yield with its 95 % bounds")
  ResponseEntity<byte[]> yieldXlsx(
      @ModelAttribute @ParameterObject ChartFilter filter, Locale locale) {
    return xlsx("first-pass-yield", "process.yield", yieldTable(filter), locale);
  }

  @GetMapping("/causes.csv")
  @Operation(summary = "Why assemblies were held or out, the most frequent cause first")
  ResponseEntity<byte[]> causesCsv(@ModelAttribute @ParameterObject ChartFilter filter) {
    return csv("causes", ProcessTables.of(reports.causes(filter)));
  }

  @GetMapping("/causes.xlsx")
  @Operation(summary = "Why assemblies were held or out, the most frequent cause first")
  ResponseEntity<byte[]> causesXlsx(
      @ModelAttribute @ParameterObject ChartFilter filter, Locale locale) {
    return xlsx("causes", "process.causes", ProcessTables.of(reports.causes(filter)), locale);
  }

  @GetMapping("/velocity.csv")
  @Operation(summary = "Velocity factors of a cable type's lots, or of one lot step by step")
  ResponseEntity<byte[]> velocityCsv(@ModelAttribute @ParameterObject ChartFilter filter) {
    return csv("velocity-factors", velocity(filter));
  }

  @GetMapping("/velocity.xlsx")
  @Operation(summary = "Velocity factors of a cable type's lots, or of one lot step by step")
  ResponseEntity<byte[]> velocityXlsx(
      @ModelAttribute @ParameterObject ChartFilter filter, Locale locale) {
    return xlsx("velocity-factors", "process.velocity", velocity(filter), locale);
  }

  private Table<?> chart(ChartFilter filter) {
    return ProcessTables.of(reports.chart(filter), reports.names());
  }

  private Table<?> yieldTable(ChartFilter filter) {
    return ProcessTables.of(
        reports.firstPass(filter), ProcessReports.rolledBy(filter), reports.names());
  }

  /** Lots of several cable types in one table would not tell theirs. */
  private Table<?> velocity(ChartFilter filter) {
    if (filter.cableType() == null) {
      throw InvalidInputException.of("cableType", Sentence.of("problem.missingInRequest"));
    }
    List<LotVelocities> one = reports.velocities(filter);
    return ProcessTables.of(one.get(0));
  }

  private static ResponseEntity<byte[]> csv(String name, Table<?> table) {
    return FileAnswer.csv(fileName(name), table.csv());
  }

  private static ResponseEntity<byte[]> xlsx(
      String name, String titleKey, Table<?> table, Locale locale) {
    Words words = new Words(locale);
    String title = words.text(titleKey);
    return FileAnswer.xlsx(fileName(name), table.xlsx(words, title, title));
  }

  private static String fileName(String name) {
    return "process-" + name.toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
