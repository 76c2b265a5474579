package org.equiphase.traveler;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
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

/**
 * The sheets as files, for people and machine clients alike, in the language of whoever asks; the
 * name of a file is the same in all of them.
 */
@RestController
@RequestMapping({"/traveler", "/api/v1/traveler"})
@Tag(name = "Travelers")
class TravelerDownloads {

  private final Sheets sheets;
  private final PdfWriter pdf;
  private final WorkbookWriter workbooks;

  TravelerDownloads(Sheets sheets, PdfWriter pdf, WorkbookWriter workbooks) {
    this.sheets = sheets;
    this.pdf = pdf;
    this.workbooks = workbooks;
  }

  @GetMapping("/sets/{id}.pdf")
  @Operation(summary = "The traveler of a set and of each of its members, on A4 or Letter")
  @PdfAnswer
  ResponseEntity<byte[]> setPdf(
      @PathVariable long id, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    SheetData data = sheets.set(id);
    return pdf("traveler-" + number(data) + "-set-" + name(data), data, paper, locale);
  }

  @GetMapping("/sets/{id}.xlsx")
  @Operation(summary = "The traveler of a set as a workbook: the set, then a sheet per member")
  @XlsxAnswer
  ResponseEntity<byte[]> setXlsx(@PathVariable long id, Locale locale) {
    SheetData data = sheets.set(id);
    return FileAnswer.xlsx(
        "traveler-" + number(data) + "-set-" + name(data), workbooks.travelers(data, locale));
  }

  @GetMapping("/assemblies/{serial}.pdf")
  @Operation(summary = "The traveler of one assembly, on A4 or Letter")
  @PdfAnswer
  ResponseEntity<byte[]> assemblyPdf(
      @PathVariable String serial, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    SheetData data = sheets.assembly(serial);
    return pdf("traveler-" + number(data) + "-" + serial, data, paper, locale);
  }

  @GetMapping("/assemblies/{serial}.xlsx")
  @Operation(summary = "The traveler of one assembly as a workbook")
  @XlsxAnswer
  ResponseEntity<byte[]> assemblyXlsx(@PathVariable String serial, Locale locale) {
    SheetData data = sheets.assembly(serial);
    return FileAnswer.xlsx(
        "traveler-" + number(data) + "-" + serial, workbooks.travelers(data, locale));
  }

  @GetMapping("/workorders/{number}.pdf")
  @Operation(summary = "The travelers of all sets and of the pool of an order")
  @PdfAnswer
  ResponseEntity<byte[]> orderPdf(
      @PathVariable String number, @RequestParam(defaultValue = "a4") String paper, Locale locale) {
    return pdf("travelers-" + number, sheets.order(number), paper, locale);
  }

  private static String number(SheetData data) {
    return data.heading().order().number();
  }

  private static String name(SheetData data) {
    return data.sets().get(0).set().name();
  }

  private ResponseEntity<byte[]> pdf(String fileName, SheetData data, String paper, Locale locale) {
    return FileAnswer.pdf(fileName, pdf.write("traveler/sheets", data, Paper.of(paper), locale));
  }
}
