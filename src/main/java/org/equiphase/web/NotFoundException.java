package org.equiphase.web;

/** The thing that the request names does not exist; answered with 404. */
public class NotFoundException extends RuntimeException {

  /**
   * @param what the kind of thing, e.g. "assembly"
   * @param key what it was looked up by
   */
  public NotFoundException(String what, Object key) {
    super("There is no " + what + " \"" + key + "\".");
  }
}
