package org.equiphase.metrology;

/**
 * A pattern on a control chart that calls for a look at the process.
 *
 * @param index of the point that completes it, from 0
 * @param rule the pattern
 * @param above whether it lies above the centre
 */
public record RunSignal(int index, RunRule rule, boolean above) {}
