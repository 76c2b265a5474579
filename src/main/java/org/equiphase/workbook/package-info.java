/**
 * An order as one workbook: out, with formulas that can be audited and cells for the floor to fill
 * in, and back, with a preview before anything is stored.
 */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "workorder",
      "catalog",
      "adjustment",
      "measurement",
      "sheet",
      "web",
      "audit"
    })
package org.equiphase.workbook;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
