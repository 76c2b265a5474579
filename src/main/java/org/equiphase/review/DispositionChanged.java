package org.equiphase.review;

/** A decision was made, agreed to or declined, in the present transaction. */
record DispositionChanged(long dispositionId) {}
