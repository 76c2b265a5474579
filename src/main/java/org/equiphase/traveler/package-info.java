/**
 * The sheets that go through the shop: travelers of assemblies and sets as PDF and XLSX, and the
 * order's workbook of instructions. They only read; what they show is the plan of the moment.
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
package org.equiphase.traveler;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
