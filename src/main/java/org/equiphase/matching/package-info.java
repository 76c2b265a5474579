/**
 * The matching problem: which members of a set to trim, stretch or replace so that all agree in
 * phase.
 */
@NullMarked
package org.equiphase.matching;

import org.jspecify.annotations.NullMarked;
