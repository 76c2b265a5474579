package org.equiphase.workbook;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import jakarta.servlet.http.HttpServletResponse;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.XlsxAnswer;
import org.equiphase.workorder.WorkOrder;
import org.springframework.http.HttpHeaders;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** An order's workbook as a file; the links of old lead to it. */
@RestController
@RequestMapping({"", "/api/v1"})
@Tag(name = "Workbooks")
class WorkbookDownloads {

  private final OrderWorkbook workbook;

  WorkbookDownloads(OrderWorkbook workbook) {
    this.workbook = workbook;
  }

  @GetMapping({
    "/workorders/{number}/workbook.xlsx",
    "/traveler/workorders/{number}/instructions.xlsx"
  })
  @Operation(
      summary =
          "The order as a workbook: summary, instructions to fill in, sets, readings,"
              + " specification, changes")
  @XlsxAnswer
  void workbook(@PathVariable String number, Locale locale, HttpServletResponse response)
      throws IOException {
    // Kept aside first, so that what goes wrong on the way is answered as such.
    Path file = Files.createTempFile("workbook", ".xlsx");
    try {
      WorkOrder order;
      try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file))) {
        order = workbook.write(number, locale, out);
      }
      String name = "workbook-" + number + "-rev-" + order.revision() + ".xlsx";
      response.setContentType(FileAnswer.XLSX);
      response.setHeader(HttpHeaders.CONTENT_DISPOSITION, FileAnswer.disposition(name));
      response.setContentLengthLong(Files.size(file));
      Files.copy(file, response.getOutputStream());
    } finally {
      Files.delete(file);
    }
  }
}
