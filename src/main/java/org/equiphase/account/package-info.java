/** People, roles, sign-in, API tokens, and the table of who may do what. */
@NullMarked
@ApplicationModule(allowedDependencies = {"audit", "web"})
package org.equiphase.account;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
