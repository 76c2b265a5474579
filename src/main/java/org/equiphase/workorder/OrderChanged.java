package org.equiphase.workorder;

/** An order's title, due date or specification has changed, in the present transaction. */
public record OrderChanged(long orderId) {}
