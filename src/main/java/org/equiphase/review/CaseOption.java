package org.equiphase.review;

import java.util.List;
import java.util.Map;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.web.Sentence;

/**
 * What could be decided, and what would follow.
 *
 * @param possible whether it would help; otherwise the consequence says why not
 * @param details further consequences, one a line
 * @param terms what the decision's form is to be opened with
 */
record CaseOption(
    Kind kind,
    boolean possible,
    Sentence consequence,
    List<Sentence> details,
    Map<String, String> terms) {

  CaseOption {
    details = List.copyOf(details);
    terms = Map.copyOf(terms);
  }

  static CaseOption no(Kind kind, Sentence why) {
    return new CaseOption(kind, false, why, List.of(), Map.of());
  }

  static CaseOption yes(Kind kind, Sentence consequence) {
    return new CaseOption(kind, true, consequence, List.of(), Map.of());
  }
}
