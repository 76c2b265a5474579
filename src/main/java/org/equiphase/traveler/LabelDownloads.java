package org.equiphase.traveler;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.PdfAnswer;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Labels of an order, of a set or of one cable as PDF, at their own size. */
@RestController
@RequestMapping({"/traveler", "/api/v1/traveler"})
@Tag(name = "Travelers")
class LabelDownloads {

  private final LabelSheets labels;

  LabelDownloads(LabelSheets labels) {
    this.labels = labels;
  }

  @GetMapping("/workorders/{number}/labels.pdf")
  @Operation(summary = "Labels for all cables of an order, set by set, then those in the pool")
  @PdfAnswer
  ResponseEntity<byte[]> order(
      @PathVariable String number,
      @RequestParam String layout,
      @RequestParam(defaultValue = "1") int start,
      @RequestParam(defaultValue = "1") int copies,
      @RequestParam(defaultValue = "false") boolean revision,
      Locale locale) {
    var request = new LabelSheets.Request(layout, start, copies, revision);
    return FileAnswer.pdf("labels-" + number, labels.order(number, request, locale));
  }

  @GetMapping("/sets/{id}/labels.pdf")
  @Operation(summary = "Labels for the members of a set")
  @PdfAnswer
  ResponseEntity<byte[]> set(
      @PathVariable long id,
      @RequestParam String layout,
      @RequestParam(defaultValue = "1") int start,
      @RequestParam(defaultValue = "1") int copies,
      @RequestParam(defaultValue = "false") boolean revision,
      Locale locale) {
    var request = new LabelSheets.Request(layout, start, copies, revision);
    return FileAnswer.pdf("labels-set-" + id, labels.set(id, request, locale));
  }

  @GetMapping("/assemblies/{serial}/labels.pdf")
  @Operation(summary = "Labels for one cable")
  @PdfAnswer
  ResponseEntity<byte[]> assembly(
      @PathVariable String serial,
      @RequestParam String layout,
      @RequestParam(defaultValue = "1") int start,
      @RequestParam(defaultValue = "1") int copies,
      @RequestParam(defaultValue = "false") boolean revision,
      Locale locale) {
    var request = new LabelSheets.Request(layout, start, copies, revision);
    return FileAnswer.pdf("labels-" + serial, labels.assembly(serial, request, locale));
  }
}
