/**
 * Building sets from an order's pool: proposed by the solver, moved by hand with a check at once,
 * assigned to positions, accepted as sets of the order.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"adjustment", "audit", "web", "workorder"})
package org.equiphase.building;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
