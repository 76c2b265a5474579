/**
 * The station: a small program on a bench's computer that sends the files of a watched folder to
 * the service. It shares the jar with the service and nothing else, so it starts at once and needs
 * no database.
 */
@NullMarked
package org.equiphase.station;

import org.jspecify.annotations.NullMarked;
