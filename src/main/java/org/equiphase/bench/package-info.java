/**
 * The bench page: scan a serial, log its reading, read the instruction, sign it off, next. It keeps
 * who has which assembly before them, and work laid down for the next shift.
 */
@NullMarked
@ApplicationModule(
    allowedDependencies = {
      "catalog",
      "workorder",
      "measurement",
      "adjustment",
      "gauge",
      "traveler",
      "web",
      "audit"
    })
package org.equiphase.bench;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
