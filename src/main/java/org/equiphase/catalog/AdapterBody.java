package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** What a client sends for an adapter; its draft tells each missing field. */
@JsonIgnoreProperties("id")
record AdapterBody(
    @Nullable Integer version,
    @Nullable String name,
    @Nullable Double delayPs,
    @Nullable Double lossDbAt1Ghz,
    @Nullable String note) {

  Adapter draft(long id, int version, DraftProblems problems) {
    return new Adapter(
        id,
        version,
        problems.text("name", name),
        problems.number("delayPs", delayPs),
        problems.number("lossDbAt1Ghz", lossDbAt1Ghz),
        Objects.requireNonNullElse(note, ""));
  }
}
