package org.equiphase.workbook;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * An uploaded workbook.
 *
 * @param storedAt null until someone confirmed it
 */
public record Upload(
    long id,
    int version,
    long workOrderId,
    String name,
    String sha256,
    Instant uploadedAt,
    String uploadedBy,
    @Nullable Instant storedAt,
    @Nullable String storedBy,
    int rowsStored) {}
