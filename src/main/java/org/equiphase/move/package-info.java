/** Moves a shop's whole database from H2 to PostgreSQL. Knows tables and columns, no features. */
@ApplicationModule(allowedDependencies = {})
@NullMarked
package org.equiphase.move;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
