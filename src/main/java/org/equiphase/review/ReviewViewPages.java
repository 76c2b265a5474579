package org.equiphase.review;

import java.util.Map;
import org.equiphase.review.ReviewViews.Draft;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where a person keeps views of the queue. */
@Controller
@RequestMapping("/review/views")
class ReviewViewPages {

  private final ReviewViews views;

  ReviewViewPages(ReviewViews views) {
    this.views = views;
  }

  @GetMapping
  ModelAndView views() {
    return page(HttpStatus.OK, Map.of());
  }

  @PostMapping
  ModelAndView save(@ModelAttribute Draft view) {
    try {
      return new ModelAndView("redirect:/review?" + views.save(view).query());
    } catch (InvalidInputException e) {
      return page(HttpStatus.BAD_REQUEST, e.byField()).addObject("unsaved", view);
    } catch (ConflictException e) {
      return page(HttpStatus.CONFLICT, Map.of("view", e.words())).addObject("unsaved", view);
    }
  }

  @PostMapping("/{id}")
  ModelAndView change(@PathVariable long id, @ModelAttribute Draft view) {
    try {
      views.change(id, view);
    } catch (InvalidInputException e) {
      return page(HttpStatus.BAD_REQUEST, e.byField()).addObject("typed", Map.of(id, view));
    } catch (ConflictException e) {
      return page(HttpStatus.CONFLICT, Map.of("view", e.words()))
          .addObject("typed", Map.of(id, view));
    }
    return new ModelAndView("redirect:/review/views");
  }

  @PostMapping("/{id}/delete")
  ModelAndView delete(@PathVariable long id, @RequestParam int version) {
    try {
      views.delete(id, version);
    } catch (ConflictException e) {
      return page(HttpStatus.CONFLICT, Map.of("view", e.words()));
    }
    return new ModelAndView("redirect:/review/views");
  }

  private ModelAndView page(HttpStatus status, Map<String, Sentence> errors) {
    return new ModelAndView("review/views", status)
        .addObject("views", views.own())
        .addObject("typed", Map.of())
        .addObject("errors", errors);
  }
}
