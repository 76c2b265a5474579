package org.equiphase.review;

import java.time.Instant;
import java.util.List;
import org.equiphase.review.BulkActions.Action;
import org.equiphase.review.BulkActions.Bulk;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** The same thing done to many assemblies, for machine clients. */
@RestController
@RequestMapping("/api/v1/review/bulk")
class BulkApi {

  private final BulkActions bulk;

  BulkApi(BulkActions bulk) {
    this.bulk = bulk;
  }

  record Request(
      @Nullable Action action,
      @Nullable List<String> serials,
      @Nullable String reason,
      @Nullable ReasonCode reasonCode,
      @Nullable Instant seenAt,
      @Nullable String password) {}

  record Done(List<String> serials) {}

  /** All or nothing; new readings are signed with the sender's password. */
  @PostMapping
  Done act(@RequestBody Request request) {
    return new Done(
        bulk.act(
            new Bulk(
                request.action,
                request.serials,
                request.reason,
                request.reasonCode,
                request.seenAt),
            request.password));
  }
}
