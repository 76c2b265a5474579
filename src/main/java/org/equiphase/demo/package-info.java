/** The invented demo shop: loads the files of demo-data through the same services as real data. */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "account",
      "catalog",
      "workorder",
      "measurement",
      "adjustment",
      "review",
      "release"
    })
package org.equiphase.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
