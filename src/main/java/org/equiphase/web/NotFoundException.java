package org.equiphase.web;

/** The thing that the request names does not exist; answered with 404. */
public class NotFoundException extends RuntimeException {

  private final Sentence words;

  /**
   * @param what the kind of thing, one of {@code term.kind} with or without dashes, e.g. "work
   *     order"
   * @param key what it was looked up by
   */
  public NotFoundException(String what, Object key) {
    this(Sentence.of("problem.noSuch", kind(what), key.toString()));
  }

  private NotFoundException(Sentence words) {
    super(words.toString());
    this.words = words;
  }

  /** What a kind of thing is called. */
  public static Sentence kind(String what) {
    return Sentence.of("term.kind." + what.replace(' ', '-'));
  }

  public Sentence words() {
    return words;
  }
}
