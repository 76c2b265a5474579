/**
 * What the shop owns and buys: cable types, end standards, adapters, line stretchers, instruments
 * and benches. Other features read it through {@link org.equiphase.catalog.Catalog}.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"audit", "web"})
package org.equiphase.catalog;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
