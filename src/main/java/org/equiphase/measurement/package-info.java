/**
 * Readings: typed in or read from Touchstone and CSV files, brought to the assembly's planes and to
 * the order's reference temperature; reference-cable checks. A reading is never changed, only
 * voided.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"catalog", "workorder", "web", "audit"})
package org.equiphase.measurement;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
