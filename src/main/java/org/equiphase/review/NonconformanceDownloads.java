package org.equiphase.review;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import io.swagger.v3.oas.annotations.responses.ApiResponse;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.sheet.PdfWriter;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Nonconformance reports for people and machine clients alike. */
@RestController
@RequestMapping({"/review/dispositions/{id}", "/api/v1/review/dispositions/{id}"})
class NonconformanceDownloads {

  private final NonconformanceReports reports;
  private final PdfWriter pdf;

  NonconformanceDownloads(NonconformanceReports reports, PdfWriter pdf) {
    this.reports = reports;
    this.pdf = pdf;
  }

  @GetMapping("/report.pdf")
  @Operation(summary = "The nonconformance report of a decision, on A4 or Letter")
  @ApiResponse(
      responseCode = "200",
      content =
          @Content(
              mediaType = FileAnswer.PDF,
              schema = @Schema(type = "string", format = "binary")))
  ResponseEntity<byte[]> pdf(
      @PathVariable long id, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    return FileAnswer.pdf(
        name(id), pdf.write("review/report", reports.report(id), Paper.of(paper), locale));
  }

  @GetMapping("/report.xlsx")
  @Operation(summary = "The nonconformance report of a decision as a workbook")
  @ApiResponse(
      responseCode = "200",
      content =
          @Content(
              mediaType = FileAnswer.XLSX,
              schema = @Schema(type = "string", format = "binary")))
  ResponseEntity<byte[]> xlsx(@PathVariable long id, Locale locale) {
    return FileAnswer.xlsx(name(id), NonconformanceBook.write(reports.report(id), locale));
  }

  private static String name(long id) {
    return "nonconformance-" + id;
  }
}
