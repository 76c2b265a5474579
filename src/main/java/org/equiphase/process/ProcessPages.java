package org.equiphase.process;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.equiphase.process.ControlChart.Point;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Require;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** How the process runs, for everyone who is signed in; QA keeps limits. */
@Controller
@RequestMapping("/process")
class ProcessPages {

  private static final int RECENT_YIELD = 200;

  private final ProcessReports reports;
  private final ControlCharts charts;
  private final ControlLimits limits;
  private final Overview overview;
  private final Backfill backfill;

  ProcessPages(
      ProcessReports reports,
      ControlCharts charts,
      ControlLimits limits,
      Overview overview,
      Backfill backfill) {
    this.reports = reports;
    this.charts = charts;
    this.limits = limits;
    this.overview = overview;
    this.backfill = backfill;
  }

  @GetMapping
  String overview(Model model) {
    ChartFilter all = ChartFilter.of(Characteristic.FIRST_PASS);
    model.addAttribute("cards", overview.cards());
    model.addAttribute("yield", Yield.of(charts.newest(all, RECENT_YIELD), Dimension.WEEK).total());
    model.addAttribute("causes", reports.causes(all));
    common(model);
    return "process/overview";
  }

  @GetMapping("/chart")
  ModelAndView chart(@ModelAttribute ChartFilter filter) {
    try {
      return chart(filter, HttpStatus.OK, Map.of(), null);
    } catch (InvalidInputException e) {
      ModelAndView page = new ModelAndView("process/chart", HttpStatus.BAD_REQUEST);
      fill(page, filter, null, e.byField(), null);
      return page;
    }
  }

  /** Keeps or withdraws limits, then shows the chart that goes by them. */
  @PostMapping("/limits")
  ModelAndView limits(
      @ModelAttribute ChartFilter filter,
      @RequestParam(defaultValue = "false") boolean withdraw,
      @RequestParam(required = false) @Nullable Instant keepFrom,
      @RequestParam(required = false) @Nullable Instant keepTo,
      @RequestParam(defaultValue = "0") int keepCount,
      @RequestParam(required = false) @Nullable Long lastId,
      @RequestParam(defaultValue = "") String note) {
    try {
      if (withdraw) {
        limits.withdraw(filter, lastId, note);
      } else {
        limits.keep(
            filter,
            Require.present("keepFrom", keepFrom),
            Require.present("keepTo", keepTo),
            keepCount,
            lastId,
            note);
      }
    } catch (InvalidInputException e) {
      return chart(filter, HttpStatus.BAD_REQUEST, e.byField(), null);
    } catch (ConflictException e) {
      return chart(filter, HttpStatus.CONFLICT, Map.of(), e.words());
    }
    return new ModelAndView("redirect:" + filter.at("/process/chart", "baseline", null));
  }

  @GetMapping("/yield")
  String firstPass(@ModelAttribute ChartFilter filter, Model model) {
    model.addAttribute("filter", filter);
    model.addAttribute("by", ProcessReports.rolledBy(filter));
    model.addAttribute("yield", reports.firstPass(filter));
    common(model);
    return "process/yield";
  }

  @GetMapping("/causes")
  String causes(@ModelAttribute ChartFilter filter, Model model) {
    model.addAttribute("filter", filter);
    model.addAttribute("pareto", reports.causes(filter));
    common(model);
    return "process/causes";
  }

  @GetMapping("/velocity")
  String velocity(@ModelAttribute ChartFilter filter, Model model) {
    model.addAttribute("filter", filter);
    model.addAttribute("velocities", reports.velocities(filter));
    common(model);
    return "process/velocity";
  }

  private ModelAndView chart(
      ChartFilter filter,
      HttpStatus status,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict) {
    ModelAndView page = new ModelAndView("process/chart", status);
    fill(page, filter, charts.chart(filter), errors, conflict);
    return page;
  }

  private void fill(
      ModelAndView page,
      ChartFilter filter,
      @Nullable ControlChart chart,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict) {
    page.addObject("filter", filter);
    page.addObject("what", filter.what());
    page.addObject("chart", chart);
    page.addObject("errors", errors);
    page.addObject("conflict", conflict);
    page.addObject("characteristics", Characteristic.charted());
    page.addObject("allSeries", charts.series(filter.what()));
    page.addObject("names", reports.names());
    page.addObject("filling", backfill.isRunning());
    if (chart != null) {
      page.addObject("spread", Spread.of(chart));
      page.addObject("groups", filter.by() == null ? List.of() : Group.of(chart, filter.by()));
      page.addObject("persons", seen(chart, Dimension.PERSON));
      page.addObject("lots", seen(chart, Dimension.LOT));
    }
  }

  /** Who or what is on the chart, to choose from. */
  private static List<String> seen(ControlChart chart, Dimension dimension) {
    return chart.points().stream()
        .map(Point::value)
        .flatMap(v -> Stream.ofNullable(dimension.of(v)))
        .map(Object::toString)
        .distinct()
        .sorted()
        .toList();
  }

  private void common(Model model) {
    model.addAttribute("names", reports.names());
    model.addAttribute("noErrors", Map.of());
    model.addAttribute("filling", backfill.isRunning());
  }
}
