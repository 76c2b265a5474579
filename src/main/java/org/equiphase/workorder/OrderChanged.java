package org.equiphase.workorder;

/**
 * An order's title, due date or specification has changed, in the present transaction.
 *
 * @param revised whether its specification did, so that it has the next revision letter
 */
public record OrderChanged(long orderId, boolean revised) {}
