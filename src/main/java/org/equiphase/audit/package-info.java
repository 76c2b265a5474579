/** The append-only log of who did what, with a hash chain that shows tampering. */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.equiphase.audit;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
