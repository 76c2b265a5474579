package org.equiphase.traveler;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.equiphase.sheet.FileAnswer;
import org.equiphase.sheet.Paper;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

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
    return "redirect:/traveler/jobs/" + jobs.start(order, kind, Paper.of(paper), locale).id();
  }

  @GetMapping("/{jobId}")
  ModelAndView show(@PathVariable String jobId) {
    return find(jobId)
        .map(job -> new ModelAndView("traveler/job").addObject("job", job.view()))
        .orElseGet(PrintJobPages::gone);
  }

  @PostMapping("/{jobId}/cancel")
  ModelAndView cancel(@PathVariable String jobId) {
    Optional<PrintJob> job = find(jobId);
    if (job.isEmpty()) {
      return gone();
    }
    jobs.cancel(job.get());
    return new ModelAndView("redirect:/traveler/jobs/" + job.get().id());
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
