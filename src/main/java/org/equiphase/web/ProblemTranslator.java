package org.equiphase.web;

import org.jspecify.annotations.Nullable;

/**
 * Says how a kind of exception is answered. Any bean of this type is asked before the common rules.
 */
@FunctionalInterface
public interface ProblemTranslator {

  /** The answer to this exception, or null if it is none of this translator's. */
  @Nullable Problem translate(Exception exception);
}
