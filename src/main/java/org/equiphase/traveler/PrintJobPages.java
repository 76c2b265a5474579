package org.equiphase.traveler;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.util.UriComponentsBuilder;

/** Travelers of a whole order: begun, watched, cancelled, taken. */
@Controller
@RequestMapping("/traveler/jobs")
class PrintJobPages {

  private final PrintJobs jobs;

  PrintJobPages(PrintJobs jobs) {
    this.jobs = jobs;
  }

  @PostMapping
  String start(
      @RequestParam String order,
      @RequestParam PrintJob.Kind kind,
      @RequestParam(defaultValue = "a4") String paper,
      Locale locale) {
    return "redirect:" + address(jobs.start(order, kind, Paper.of(paper), locale));
  }

  /** The address carries what was asked for, so that a job that was lost can be begun again. */
  private static String address(PrintJob job) {
    return UriComponentsBuilder.fromPath("/traveler/jobs/{id}")
        .queryParam("order", "{order}")
        .queryParam("kind", job.kind())
        .queryParam("paper", job.paper())
        .encode()
        .buildAndExpand(job.id(), job.orderNumber())
        .toUriString();
  }

  @GetMapping("/{jobId}")
  ModelAndView show(
      @PathVariable String jobId,
      @RequestParam(required = false) @Nullable String order,
      @RequestParam(required = false) PrintJob.@Nullable Kind kind,
      @RequestParam(defaultValue = "a4") String paper) {
    return find(jobId)
        .map(
            job ->
                new ModelAndView("traveler/job")
                    .addObject("job", job.view())
                    .addObject("address", address(job)))
        .orElseGet(
            () ->
                gone().addObject("order", order).addObject("kind", kind).addObject("paper", paper));
  }

  @PostMapping("/{jobId}/cancel")
  ModelAndView cancel(@PathVariable String jobId) {
    Optional<PrintJob> job = find(jobId);
    if (job.isEmpty()) {
      return gone();
    }
    jobs.cancel(job.get());
    return new ModelAndView("redirect:" + address(job.get()));
  }

  @GetMapping("/{jobId}/file")
  Object file(@PathVariable String jobId) {
    Optional<PrintJob> job = find(jobId);
    Path file = job.map(PrintJob::file).orElse(null);
    return job.isEmpty() || file == null
        ? gone()
        : FileAnswer.stored(job.get().fileName(), job.get().fileType(), file);
  }

  private Optional<PrintJob> find(String jobId) {
    try {
      return jobs.find(UUID.fromString(jobId));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** A job of before a restart, of another instance, or older than an hour. */
  private static ModelAndView gone() {
    return new ModelAndView("traveler/job", HttpStatus.NOT_FOUND).addObject("job", null);
  }
}
