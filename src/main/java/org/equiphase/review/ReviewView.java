package org.equiphase.review;

/**
 * A filter of the queue that a person keeps under a name.
 *
 * @param query the filter as the address of the queue carries it
 * @param shared whether others see it too
 * @param opensFirst whether it opens where its owner asks for no filter
 */
public record ReviewView(
    long id,
    String owner,
    String name,
    String query,
    boolean shared,
    boolean opensFirst,
    int version) {}
