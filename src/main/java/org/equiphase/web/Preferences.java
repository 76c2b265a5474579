package org.equiphase.web;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** How the person who is signed in wants pages; their principal implements it. */
public interface Preferences {

  /** Null where the browser's languages decide. */
  @Nullable Locale language();

  LengthUnit lengthUnit();
}
