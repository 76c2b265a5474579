package org.equiphase.workorder;

import java.io.IOException;
import java.util.List;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Orders from a CSV or XLSX file for machine clients. */
@RestController
@RequestMapping("/api/v1/workorders/imports")
class OrderImportApi {

  private final OrderImports imports;

  OrderImportApi(OrderImports imports) {
    this.imports = imports;
  }

  /**
   * What became of a file, or would.
   *
   * @param stored numbers of the orders that were stored
   */
  record ImportAnswer(
      List<OrderPreview.PlannedOrder> orders,
      List<OrderPreview.BadCell> problems,
      List<String> stored) {}

  /**
   * Stores the orders of a file, all of them or none (201); where cells won't do, each is named as
   * {@code rows[3].serial} (400).
   *
   * @param dryRun only looks at what would be stored, and what is wrong with it (200)
   */
  @PostMapping(consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  ResponseEntity<ImportAnswer> take(
      @RequestPart MultipartFile file, @RequestParam(defaultValue = "false") boolean dryRun)
      throws IOException {
    OrderPreview preview = imports.preview(file.getBytes());
    if (dryRun) {
      return ResponseEntity.ok(new ImportAnswer(preview.orders(), preview.problems(), List.of()));
    }
    List<String> stored = imports.store(file.getBytes()).stream().map(WorkOrder::number).toList();
    return ResponseEntity.status(HttpStatus.CREATED)
        .body(new ImportAnswer(preview.orders(), List.of(), stored));
  }
}
