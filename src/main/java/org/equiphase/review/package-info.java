/** What QA decides: holds, dispositions with their signatures, and what leads up to them. */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "account",
      "catalog",
      "workorder",
      "measurement",
      "sheet",
      "adjustment",
      "web",
      "audit"
    })
package org.equiphase.review;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
