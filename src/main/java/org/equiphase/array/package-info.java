/** What the phase errors of a matched set do to the antenna that it feeds. Pure computation. */
@NullMarked
package org.equiphase.array;

import org.jspecify.annotations.NullMarked;
