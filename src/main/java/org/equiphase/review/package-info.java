/** What QA decides: holds, releases and replacements. */
@NullMarked
@ApplicationModule(allowedDependencies = {"workorder", "adjustment", "web", "audit"})
package org.equiphase.review;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
