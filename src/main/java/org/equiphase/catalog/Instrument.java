package org.equiphase.catalog;

import java.time.LocalDate;

/** A network analyzer with the standard uncertainty that its phase readings are given. */
public record Instrument(
    long id,
    int version,
    String name,
    String serialNumber,
    double phaseStandardUncertaintyDeg,
    LocalDate calibrationDue,
    String note)
    implements CatalogEntry {}
