/**
 * The set problem: which members of a set to trim, stretch or replace so that all agree in phase.
 * The pool problem: as many matched sets as possible out of a pool of assemblies.
 */
@NullMarked
package org.equiphase.matching;

import org.jspecify.annotations.NullMarked;
