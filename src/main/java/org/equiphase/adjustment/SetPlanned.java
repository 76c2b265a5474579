package org.equiphase.adjustment;

/**
 * A set was planned again, in the present transaction: its instructions are issued and its members
 * moved. Members of a released set stay as they are.
 */
public record SetPlanned(SetPlan plan) {}
