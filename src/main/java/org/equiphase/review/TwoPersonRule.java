package org.equiphase.review;

import org.equiphase.review.Disposition.Kind;
import org.springframework.stereotype.Component;

/** Which decisions take effect only when a second person signs them too. */
@Component
class TwoPersonRule {

  boolean needsSecond(Kind kind) {
    return kind == Kind.CONCESSION || kind == Kind.SCRAP;
  }
}
