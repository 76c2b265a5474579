package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A bench as a form or a client gives it: with the ids of its parts. */
@JsonIgnoreProperties("id")
record BenchBody(
    @Nullable Integer version,
    @Nullable String name,
    @Nullable Long instrumentId,
    @Nullable Long endStandardId,
    @Nullable List<@Nullable Long> adapterIds,
    @Nullable Long referenceCableTypeId,
    @Nullable Double referenceCableLengthMm,
    @Nullable Double driftLimitDeg,
    @Nullable Integer referenceIntervalMin,
    @Nullable BudgetBody transmissionBudget,
    @Nullable BudgetBody reflectionBudget,
    @Nullable LocalDate calibrationDue,
    @Nullable String note) {

  /** What is left out adds nothing. */
  record BudgetBody(
      @Nullable Double instrumentMagnitudeDb,
      @Nullable Double connectorDeg,
      @Nullable Double flexureDeg,
      @Nullable Double temperatureC) {

    static Budget draft(@Nullable BudgetBody body) {
      return body == null
          ? Budget.INSTRUMENT_ONLY
          : new Budget(
              body.instrumentMagnitudeDb,
              Objects.requireNonNullElse(body.connectorDeg, 0.0),
              Objects.requireNonNullElse(body.flexureDeg, 0.0),
              Objects.requireNonNullElse(body.temperatureC, 0.0));
    }
  }

  Bench draft(long id, int version, Catalog catalog, DraftProblems problems) {
    return new Bench(
        id,
        version,
        problems.text("name", name),
        instrument(catalog, problems),
        endStandard(catalog, problems),
        adapters(catalog, problems),
        referenceCable(catalog, problems),
        problems.number("driftLimitDeg", driftLimitDeg),
        problems.required("referenceIntervalMin", referenceIntervalMin, 1, "catalog.giveMinutes"),
        BudgetBody.draft(transmissionBudget),
        BudgetBody.draft(reflectionBudget),
        problems.day("calibrationDue", calibrationDue),
        Objects.requireNonNullElse(note, ""));
  }

  private Instrument instrument(Catalog catalog, DraftProblems problems) {
    Instrument none = new Instrument(0, 0, "", "", Double.NaN, LocalDate.EPOCH, "");
    long id = problems.required("instrumentId", instrumentId, 0L, "catalog.chooseFromCatalog");
    return part("instrumentId", "instrument", catalog.instruments(), id, none, problems);
  }

  private @Nullable EndStandard endStandard(Catalog catalog, DraftProblems problems) {
    if (endStandardId == null) {
      return null;
    }
    EndStandard none = new EndStandard(0, 0, "", EndStandard.Kind.SHORT, 0, 0, List.of(), "");
    return part(
        "endStandardId", "end standard", catalog.endStandards(), endStandardId, none, problems);
  }

  private List<Adapter> adapters(Catalog catalog, DraftProblems problems) {
    if (adapterIds == null || adapterIds.isEmpty()) {
      return List.of();
    }
    Adapter none = new Adapter(0, 0, "", 0, 0, "");
    List<Adapter> known = catalog.adapters();
    return adapterIds.stream()
        .map(id -> Objects.requireNonNullElse(id, 0L))
        .map(id -> part("adapterIds", "adapter", known, id, none, problems))
        .toList();
  }

  private @Nullable ReferenceCable referenceCable(Catalog catalog, DraftProblems problems) {
    if (referenceCableTypeId == null) {
      if (referenceCableLengthMm != null) {
        problems.add("referenceCableLengthMm", Sentence.of("catalog.lengthWithoutType"));
      }
      return null;
    }
    CableType none = new CableType(0, 0, "", 1, 0, 50, 0, 0, List.of(), "");
    CableType cableType =
        part(
            "referenceCableTypeId",
            "cable type",
            catalog.cableTypes(),
            referenceCableTypeId,
            none,
            problems);
    return new ReferenceCable(
        cableType, problems.number("referenceCableLengthMm", referenceCableLengthMm));
  }

  private static <T extends CatalogEntry> T part(
      String field, String noun, List<T> known, long id, T none, DraftProblems problems) {
    return known.stream()
        .filter(entry -> entry.id() == id)
        .findFirst()
        .orElseGet(
            () -> {
              problems.add(field, DraftProblems.noSuch(noun, id));
              return none;
            });
  }
}
