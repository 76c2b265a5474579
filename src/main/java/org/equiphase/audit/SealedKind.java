package org.equiphase.audit;

import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;

/** What kinds of sealed rows are called. */
final class SealedKind {

  private SealedKind() {}

  /** The name in the reader's language where there is one, or else the log's own word. */
  static Sentence name(String kind) {
    Sentence name = NotFoundException.kind(kind);
    try {
      name.in(Sentence.RECORD_LANGUAGE);
      return name;
    } catch (IllegalArgumentException e) {
      return Sentence.said(kind);
    }
  }
}
