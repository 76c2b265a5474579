/**
 * Work orders: their specification, matched sets with positions, and the assemblies by serial
 * number. Other features read and move them through {@link org.equiphase.workorder.WorkOrders}.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"catalog", "web", "audit", "sheet"})
package org.equiphase.workorder;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
