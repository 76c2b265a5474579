package org.equiphase.review;

import java.util.List;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** Views of the queue for machine clients. */
@RestController
@RequestMapping("/api/v1/review/views")
class ReviewViewApi {

  private final ReviewViews views;

  ReviewViewApi(ReviewViews views) {
    this.views = views;
  }

  @GetMapping
  List<ReviewView> views() {
    return views.visible();
  }

  @PostMapping
  @ResponseStatus(HttpStatus.CREATED)
  ReviewView save(@RequestBody ReviewViews.Draft view) {
    return views.save(view);
  }

  @PutMapping("/{id}")
  ReviewView change(@PathVariable long id, @RequestBody ReviewViews.Draft view) {
    return views.change(id, view);
  }

  @DeleteMapping("/{id}")
  @ResponseStatus(HttpStatus.NO_CONTENT)
  void delete(@PathVariable long id, @RequestParam int version) {
    views.delete(id, version);
  }
}
