/** The page frame, error pages, API error bodies and idempotency keys that all features share. */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.equiphase.web;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
