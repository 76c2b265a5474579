/**
 * The stateless calculations for anyone signed in, as an API and as pages: what goes in, what comes
 * out, and the formula between. Stores nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = "web")
package org.equiphase.calculator;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
