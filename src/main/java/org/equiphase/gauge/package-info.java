/** Gauge studies: planned by QA, run at the bench, analysed. */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "account",
      "catalog",
      "workorder",
      "measurement",
      "sheet",
      "web",
      "audit"
    })
package org.equiphase.gauge;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
