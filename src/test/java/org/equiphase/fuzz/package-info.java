/** Broken and hostile files for all that reads files. */
@NullMarked
package org.equiphase.fuzz;

import org.jspecify.annotations.NullMarked;
