package org.equiphase.review;

import java.util.List;
import java.util.Map;
import org.equiphase.review.Finding.Kind;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** QA's queue for machine clients. */
@RestController
@RequestMapping("/api/v1/review/queue")
class QueueApi {

  private static final int MOST = 500;

  private final Findings findings;

  QueueApi(Findings findings) {
    this.findings = findings;
  }

  /** What blocks a shipment first; pass the last id as {@code after} to get the next ones. */
  @GetMapping
  List<Finding> queue(
      @ModelAttribute QueueFilter filter, @RequestParam(defaultValue = "100") int limit) {
    return findings.find(filter, Math.min(Math.max(limit, 1), MOST));
  }

  /** How many there are of each kind, whatever kinds are asked for. */
  @GetMapping("/counts")
  Map<Kind, Long> counts(@ModelAttribute QueueFilter filter) {
    return findings.counts(filter);
  }
}
