/**
 * Sweeps asked from an instrument over a raw TCP socket, with commands of IEEE 488.2 and SCPI-99
 * only. Knows neither Spring nor the database.
 */
@NullMarked
package org.equiphase.measurement.scpi;

import org.jspecify.annotations.NullMarked;
