package org.equiphase.workorder;

import java.time.Instant;
import java.util.List;

/**
 * How an order came to a revision.
 *
 * @param reason as the planner gave it; empty where the work had not begun
 */
public record OrderRevision(
    String revision, Instant at, String by, String reason, List<RevisionChange> changes) {

  public OrderRevision {
    changes = List.copyOf(changes);
  }
}
