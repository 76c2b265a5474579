/**
 * What a reading is worth: uncertainty budgets, decision rules and the probability of conformity,
 * drift, control charts, capability and gauge studies. Pure computation.
 */
@NullMarked
package org.equiphase.metrology;

import org.jspecify.annotations.NullMarked;
