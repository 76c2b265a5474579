package org.equiphase.traveler;

import static org.equiphase.web.Require.present;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.PdfAnswer;
import org.jspecify.annotations.Nullable;
import org.springdoc.core.annotations.ParameterObject;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Labels of an order, of a set or of one cable as PDF, at their own size. */
@RestController
@RequestMapping({"/traveler", "/api/v1/traveler"})
@Tag(name = "Travelers")
class LabelDownloads {

  private final LabelSheets labels;

  /**
   * What is asked for: the layout, and if wanted the place where labels begin, how many each cable
   * gets and whether the order's revision is printed.
   */
  record Asked(
      @Nullable String layout,
      @Nullable Integer start,
      @Nullable Integer copies,
      @Nullable Boolean revision) {

    LabelSheets.Request request() {
      return new LabelSheets.Request(
          present("layout", layout),
          start == null ? 1 : start,
          copies == null ? 1 : copies,
          Boolean.TRUE.equals(revision));
    }
  }

  LabelDownloads(LabelSheets labels) {
    this.labels = labels;
  }

  @GetMapping("/workorders/{number}/labels.pdf")
  @Operation(summary = "Labels for all cables of an order, set by set, then those in the pool")
  @PdfAnswer
  ResponseEntity<byte[]> order(
      @PathVariable String number, @ParameterObject Asked asked, Locale locale) {
    return FileAnswer.pdf("labels-" + number, labels.order(number, asked.request(), locale));
  }

  @GetMapping("/sets/{id}/labels.pdf")
  @Operation(summary = "Labels for the members of a set")
  @PdfAnswer
  ResponseEntity<byte[]> set(@PathVariable long id, @ParameterObject Asked asked, Locale locale) {
    return FileAnswer.pdf("labels-set-" + id, labels.set(id, asked.request(), locale));
  }

  @GetMapping("/assemblies/{serial}/labels.pdf")
  @Operation(summary = "Labels for one cable")
  @PdfAnswer
  ResponseEntity<byte[]> assembly(
      @PathVariable String serial, @ParameterObject Asked asked, Locale locale) {
    return FileAnswer.pdf("labels-" + serial, labels.assembly(serial, asked.request(), locale));
  }
}
