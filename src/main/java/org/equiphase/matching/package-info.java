/**
 * The set problem: which members of a set to trim, stretch or replace so that all agree in phase.
 * The pool problem: as many matched sets as possible out of a pool of assemblies. Cutting risk: the
 * cut likeliest to land in tolerance, and the velocity factor that finished cuts teach. Who goes
 * together by insertion loss.
 */
@NullMarked
package org.equiphase.matching;

import org.jspecify.annotations.NullMarked;
