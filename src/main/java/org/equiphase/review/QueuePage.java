package org.equiphase.review;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import org.equiphase.catalog.Catalog;
import org.equiphase.review.Finding.Kind;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;

/** QA's queue: what blocks a shipment first. */
@Controller
@RequestMapping("/review")
class QueuePage {

  private static final int PAGE_SIZE = 50;

  private final Findings findings;
  private final DueCalibrations calibrations;
  private final Dispositions dispositions;
  private final Catalog catalog;
  private final Clock clock;

  QueuePage(
      Findings findings,
      DueCalibrations calibrations,
      Dispositions dispositions,
      Catalog catalog,
      Clock clock) {
    this.findings = findings;
    this.calibrations = calibrations;
    this.dispositions = dispositions;
    this.catalog = catalog;
    this.clock = clock;
  }

  @GetMapping
  String queue(@ModelAttribute QueueFilter filter, Model model) {
    List<Finding> found = findings.find(filter, PAGE_SIZE + 1);
    boolean more = found.size() > PAGE_SIZE;
    List<Finding> shown = more ? found.subList(0, PAGE_SIZE) : found;
    model.addAttribute("filter", filter);
    model.addAttribute("findings", shown);
    model.addAttribute("next", more ? shown.get(PAGE_SIZE - 1).id() : null);
    model.addAttribute("kinds", Kind.values());
    model.addAttribute("counts", findings.counts(filter));
    model.addAttribute("cableTypes", catalog.cableTypes());
    model.addAttribute("benches", catalog.benches());
    model.addAttribute("calibrations", calibrations.due());
    model.addAttribute("pending", dispositions.pending().size());
    model.addAttribute("today", LocalDate.ofInstant(clock.instant(), clock.getZone()));
    return "review/queue";
  }
}
