/**
 * Instructions derived from readings: which cut or stretcher setting brings each assembly in, and
 * what was really done. The bench page and the set page show them.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"catalog", "workorder", "measurement", "web", "audit"})
package org.equiphase.adjustment;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
