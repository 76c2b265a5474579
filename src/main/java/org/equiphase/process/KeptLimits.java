package org.equiphase.process;

import java.time.Instant;

/**
 * Control limits that QA keeps for a selection.
 *
 * @param center and sigma: in the unit of the characteristic
 * @param baselineCount number of values that they come from, taken from {@code baselineFrom} to
 *     {@code baselineTo}
 * @param withdrawn whether they no longer count
 */
public record KeptLimits(
    long id,
    String selection,
    double center,
    double sigma,
    int baselineCount,
    Instant baselineFrom,
    Instant baselineTo,
    Instant keptAt,
    String keptBy,
    String note,
    boolean withdrawn) {}
