/** The board: where all open orders stand, what blocks them, and what matters to whoever looks. */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "account",
      "adjustment",
      "bench",
      "catalog",
      "measurement",
      "process",
      "review",
      "web",
      "workorder"
    })
package org.equiphase.board;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
