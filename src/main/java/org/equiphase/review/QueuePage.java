package org.equiphase.review;

import jakarta.servlet.http.HttpServletRequest;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.review.BulkActions.Bulk;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** QA's queue: what blocks a shipment first. */
@Controller
@RequestMapping("/review")
class QueuePage {

  private static final Bulk NOTHING = new Bulk(null, List.of(), null, null, null);

  private final QueueView queue;
  private final ReviewViews views;
  private final BulkActions bulk;

  QueuePage(QueueView queue, ReviewViews views, BulkActions bulk) {
    this.queue = queue;
    this.views = views;
    this.bulk = bulk;
  }

  /** Without any filter asked for, the view that the person chose to open first. */
  @GetMapping
  ModelAndView queue(@ModelAttribute QueueFilter filter, HttpServletRequest request) {
    String query = request.getQueryString();
    Optional<ReviewView> first =
        query == null || query.isEmpty() ? views.first() : Optional.empty();
    return first
        .map(view -> new ModelAndView("redirect:/review?" + view.query()))
        .orElseGet(() -> page(filter, NOTHING, HttpStatus.OK, Map.of()));
  }

  @PostMapping("/bulk")
  ModelAndView act(
      @ModelAttribute Bulk wanted,
      @RequestParam(defaultValue = "") String password,
      @RequestParam(defaultValue = "") String query,
      RedirectAttributes redirect) {
    QueueFilter filter = QueueQuery.read(query);
    try {
      int done = bulk.act(wanted, password).size();
      redirect.addFlashAttribute(
          "done", Sentence.of("queue.done." + Objects.requireNonNull(wanted.action()), done));
      return new ModelAndView("redirect:/review?" + QueueQuery.of(filter.fromStart()));
    } catch (InvalidInputException e) {
      return page(filter, wanted, HttpStatus.BAD_REQUEST, e.byField());
    } catch (ConflictException e) {
      return page(filter, wanted, HttpStatus.CONFLICT, Map.of("serials", e.words()));
    }
  }

  private ModelAndView page(
      QueueFilter filter, Bulk typed, HttpStatus status, Map<String, Sentence> errors) {
    ModelAndView page = new ModelAndView("review/queue", status);
    queue.show(filter, page);
    return page.addObject("typed", typed)
        .addObject("errors", errors)
        .addObject("views", views.visible());
  }
}
