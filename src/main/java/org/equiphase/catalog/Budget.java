package org.equiphase.catalog;

import org.jspecify.annotations.Nullable;

/**
 * What a bench adds to the uncertainty of a phase as it is read, one way of measuring: in
 * reflection these are figures of the two-way phase.
 *
 * @param instrumentMagnitudeDb expanded uncertainty (k = 2) of the instrument's magnitude, dB, from
 *     which its phase uncertainty follows; null takes the instrument's stated phase uncertainty
 * @param connectorDeg standard uncertainty from mating and unmating the connectors, degrees
 * @param flexureDeg standard uncertainty from flexing the test leads, degrees
 * @param temperatureC standard uncertainty of the assembly's temperature, °C
 */
public record Budget(
    @Nullable Double instrumentMagnitudeDb,
    double connectorDeg,
    double flexureDeg,
    double temperatureC) {

  /** Nothing but the instrument as stated. */
  public static final Budget INSTRUMENT_ONLY = new Budget(null, 0, 0, 0);
}
