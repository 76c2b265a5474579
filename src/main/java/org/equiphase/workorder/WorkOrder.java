package org.equiphase.workorder;

import java.time.Instant;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** An order for matched sets (or a pool) of one cable type under one specification. */
public record WorkOrder(
    long id,
    int version,
    String number,
    String title,
    String revision,
    @Nullable LocalDate dueOn,
    Instant createdAt,
    String createdBy,
    Specification specification) {}
