/**
 * Frequencies, phases, delays and lengths; sweeps and unwrapping; line and reflection maths; the
 * line stretcher; the phase-temperature curve. Pure computation in SI units.
 */
@NullMarked
package org.equiphase.rf;

import org.jspecify.annotations.NullMarked;
