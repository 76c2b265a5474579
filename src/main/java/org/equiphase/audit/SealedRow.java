package org.equiphase.audit;

/**
 * A row as it was when its audit entry was written.
 *
 * @param kind what {@link Seal#kind} says of its table
 * @param sha256 what {@link Seal#digests} says of it, unless someone changes it
 */
public record SealedRow(String kind, long id, String sha256) {}
