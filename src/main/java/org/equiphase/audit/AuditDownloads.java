package org.equiphase.audit;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Words;
import org.springdoc.core.annotations.ParameterObject;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;

/** The log as files, written while they are read from the database. */
@Controller
@RequestMapping({"/audit", "/api/v1/audit"})
class AuditDownloads {

  private static final DateTimeFormatter IN_NAME =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

  private final AuditLog log;
  private final EntrySearch search;
  private final Clock clock;

  AuditDownloads(AuditLog log, EntrySearch search, Clock clock) {
    this.log = log;
    this.search = search;
    this.clock = clock;
  }

  /** The entries that fit, and the end of the chain in a last row of its own. */
  @GetMapping("/entries.csv")
  void csv(@ParameterObject @ModelAttribute EntryFilter.Form form, HttpServletResponse response)
      throws IOException {
    EntryFilter filter = form.filter();
    ChainEnd end = log.end();
    announce(response, FileAnswer.CSV, "csv");
    try (CsvExport export = new CsvExport(response.getOutputStream())) {
      search.each(filter, end, export::add);
      export.end(end);
    }
  }

  /** The entries that fit, and the end of the chain on a sheet of its own. */
  @GetMapping("/entries.xlsx")
  void xlsx(
      @ParameterObject @ModelAttribute EntryFilter.Form form,
      HttpServletResponse response,
      Locale locale)
      throws IOException {
    EntryFilter filter = form.filter();
    ChainEnd end = log.end();
    try (BookExport export = new BookExport(new Words(locale))) {
      search.each(filter, end, export::add);
      export.end(end, clock.instant(), filter);
      announce(response, FileAnswer.XLSX, "xlsx");
      export.writeTo(response.getOutputStream());
    }
  }

  private void announce(HttpServletResponse response, String type, String ending) {
    response.setContentType(type);
    response.setHeader(
        HttpHeaders.CONTENT_DISPOSITION,
        ContentDisposition.attachment()
            .filename(
                "audit-" + IN_NAME.format(clock.instant()) + "." + ending, StandardCharsets.UTF_8)
            .build()
            .toString());
  }
}
