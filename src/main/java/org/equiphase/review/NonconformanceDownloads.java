package org.equiphase.review;

import io.swagger.v3.oas.annotations.Operation;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.sheet.PdfAnswer;
import org.equiphase.sheet.PdfWriter;
import org.equiphase.sheet.XlsxAnswer;
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
  @PdfAnswer
  ResponseEntity<byte[]> pdf(
      @PathVariable long id, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    return FileAnswer.pdf(
        name(id), pdf.write("review/report", reports.report(id), Paper.of(paper), locale));
  }

  @GetMapping("/report.xlsx")
  @Operation(summary = "The nonconformance report of a decision as a workbook")
  @XlsxAnswer
  ResponseEntity<byte[]> xlsx(@PathVariable long id, Locale locale) {
    return FileAnswer.xlsx(name(id), NonconformanceBook.write(reports.report(id), locale));
  }

  private static String name(long id) {
    return "nonconformance-" + id;
  }
}
