/** Equiphase: one package per subject; the pure packages know no Spring and no database. */
@NullMarked
package org.equiphase;

import org.jspecify.annotations.NullMarked;
