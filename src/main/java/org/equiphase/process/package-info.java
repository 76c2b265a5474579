/**
 * How the shop's process runs: control charts, capability, first-pass yield, causes of rejection
 * and velocity factors, from facts that are written as the work is done.
 */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "catalog",
      "workorder",
      "measurement",
      "adjustment",
      "sheet",
      "web",
      "audit"
    })
package org.equiphase.process;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
