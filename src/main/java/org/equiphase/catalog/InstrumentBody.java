package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.time.LocalDate;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** What a client sends for an instrument; its draft tells each missing field. */
@JsonIgnoreProperties("id")
record InstrumentBody(
    @Nullable Integer version,
    @Nullable String name,
    @Nullable String serialNumber,
    @Nullable Double phaseStandardUncertaintyDeg,
    @Nullable LocalDate calibrationDue,
    @Nullable String note,
    @Nullable ScpiConnectionBody connection) {

  Instrument draft(long id, int version, DraftProblems problems) {
    return new Instrument(
        id,
        version,
        problems.text("name", name),
        problems.text("serialNumber", serialNumber),
        problems.number("phaseStandardUncertaintyDeg", phaseStandardUncertaintyDeg),
        problems.day("calibrationDue", calibrationDue),
        Objects.requireNonNullElse(note, ""),
        connection == null ? null : connection.draft(problems));
  }
}
