package org.equiphase.traveler;

import static org.equiphase.web.Require.present;

import io.swagger.v3.oas.annotations.tags.Tag;
import java.nio.file.Path;
import java.util.Locale;
import java.util.UUID;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.equiphase.web.NotFoundException;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.Resource;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Travelers of a whole order, for machine clients. */
@RestController
@RequestMapping("/api/v1/traveler/jobs")
@Tag(name = "Travelers")
class PrintJobApi {

  private final PrintJobs jobs;

  PrintJobApi(PrintJobs jobs) {
    this.jobs = jobs;
  }

  /** What to print: all travelers of an order, as PDF or ZIP, on a4 (default) or letter. */
  record PrintRequest(
      @Nullable String orderNumber, PrintJob.@Nullable Kind kind, @Nullable String paper) {}

  @PostMapping
  @ResponseStatus(HttpStatus.ACCEPTED)
  PrintJob.View start(@RequestBody PrintRequest request, Locale locale) {
    return jobs.start(
            present("orderNumber", request.orderNumber),
            present("kind", request.kind),
            Paper.of(request.paper == null ? "a4" : request.paper),
            locale)
        .view();
  }

  @GetMapping("/{jobId}")
  PrintJob.View show(@PathVariable String jobId) {
    return find(jobId).view();
  }

  @PostMapping("/{jobId}/cancel")
  PrintJob.View cancel(@PathVariable String jobId) {
    PrintJob job = find(jobId);
    jobs.cancel(job);
    return job.view();
  }

  @GetMapping("/{jobId}/file")
  ResponseEntity<Resource> file(@PathVariable String jobId) {
    PrintJob job = find(jobId);
    Path file = job.file();
    if (file == null) {
      throw new NotFoundException("print job", jobId);
    }
    return FileAnswer.stored(job.fileName(), job.fileType(), file);
  }

  private PrintJob find(String jobId) {
    try {
      return jobs.find(UUID.fromString(jobId))
          .orElseThrow(() -> new NotFoundException("print job", jobId));
    } catch (IllegalArgumentException e) {
      throw new NotFoundException("print job", jobId);
    }
  }
}
