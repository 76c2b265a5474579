package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** What a client sends for an end standard; its draft tells each missing field. */
@JsonIgnoreProperties("id")
record EndStandardBody(
    @Nullable Integer version,
    @Nullable String name,
    EndStandard.Kind kind,
    @Nullable Double offsetDelayPs,
    @Nullable Double offsetLossDb,
    @Nullable List<@Nullable Double> coefficients,
    @Nullable String note) {

  EndStandard draft(long id, int version, DraftProblems problems) {
    return new EndStandard(
        id,
        version,
        problems.text("name", name),
        problems.required("kind", kind, EndStandard.Kind.SHORT, "catalog.giveKind"),
        problems.number("offsetDelayPs", offsetDelayPs),
        problems.number("offsetLossDb", offsetLossDb),
        problems
            .required("coefficients", coefficients, List.<@Nullable Double>of(), "catalog.giveFour")
            .stream()
            .map(c -> Objects.requireNonNullElse(c, Double.NaN))
            .toList(),
        Objects.requireNonNullElse(note, ""));
  }
}
