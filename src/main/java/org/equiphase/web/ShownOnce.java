package org.equiphase.web;

import jakarta.servlet.http.HttpServletRequest;

/** For writes whose answer holds a secret: it must not be kept for a repetition of the request. */
public final class ShownOnce {

  private static final String ATTRIBUTE = ShownOnce.class.getName();

  private ShownOnce() {}

  /** Says that the answer to this request holds a secret. */
  public static void mark(HttpServletRequest request) {
    request.setAttribute(ATTRIBUTE, true);
  }

  static boolean isMarked(HttpServletRequest request) {
    return request.getAttribute(ATTRIBUTE) != null;
  }
}
