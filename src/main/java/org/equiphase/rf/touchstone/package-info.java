/** Reads and writes Touchstone files, versions 1.0 to 2.1. */
@NullMarked
package org.equiphase.rf.touchstone;

import org.jspecify.annotations.NullMarked;
