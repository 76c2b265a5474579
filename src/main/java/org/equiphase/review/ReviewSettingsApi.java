package org.equiphase.review;

import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** QA's own rules for machine clients. */
@RestController
@RequestMapping("/api/v1/review/settings")
class ReviewSettingsApi {

  private final ReviewRules rules;

  ReviewSettingsApi(ReviewRules rules) {
    this.rules = rules;
  }

  @GetMapping
  ReviewSettings settings() {
    return rules.settings();
  }

  @PutMapping
  ReviewSettings change(@RequestBody ReviewSettings settings) {
    return rules.change(settings);
  }
}
