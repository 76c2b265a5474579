package org.equiphase.measurement;

/** A bench's reference cable was checked, in the present transaction. */
public record ReferenceChecked(ReferenceCheck check) {}
