package org.equiphase.workorder;

import com.fasterxml.jackson.annotation.JsonIgnore;
import org.jspecify.annotations.Nullable;

/**
 * One cable with its two connectors.
 *
 * @param cableLot lot of the cable it was made from; empty where not told
 * @param setId and positionId: null in the pool and after replacement
 * @param heldBy the person who put it on hold; null where it is not held, or by its readings alone
 * @param trimmedMm length cut off so far
 * @param stretcherSettingMm reading of its line stretcher now; null where none is fitted
 * @param terms what QA decided for it alone
 */
public record Assembly(
    long id,
    int version,
    String serial,
    long workOrderId,
    String cableLot,
    @Nullable Long setId,
    @Nullable Long positionId,
    AssemblyState state,
    String stateReason,
    @Nullable String heldBy,
    double trimmedMm,
    @Nullable Double stretcherSettingMm,
    ReviewTerms terms) {

  /** The stretcher that it is fitted with, its own or its order's; null for none. */
  public @Nullable Long lineStretcherId(Specification specification) {
    Long own = terms.lineStretcherId();
    return own == null ? specification.lineStretcherId() : own;
  }

  /** The same without a person's hold, to see what its readings say. */
  public Assembly unheld() {
    return heldBy == null ? this : copy(setId, positionId, AssemblyState.MEASURED, "", null, terms);
  }

  /** The same as if QA had decided otherwise. */
  public Assembly with(ReviewTerms other) {
    return copy(setId, positionId, state, stateReason, heldBy, other);
  }

  /** The same as if it stood elsewhere; a concession does not go along. */
  public Assembly placed(@Nullable Long setId, @Nullable Long positionId) {
    return copy(setId, positionId, state, stateReason, heldBy, terms.withConcededReading(null));
  }

  private Assembly copy(
      @Nullable Long setId,
      @Nullable Long positionId,
      AssemblyState state,
      String stateReason,
      @Nullable String heldBy,
      ReviewTerms terms) {
    return new Assembly(
        id,
        version,
        serial,
        workOrderId,
        cableLot,
        setId,
        positionId,
        state,
        stateReason,
        heldBy,
        trimmedMm,
        stretcherSettingMm,
        terms);
  }

  /** Whether readings of it are taken. */
  @JsonIgnore
  public boolean isMeasurable() {
    return !isGone() && state != AssemblyState.RELEASED;
  }

  /** Whether it has left the work for good. */
  @JsonIgnore
  public boolean isGone() {
    return state == AssemblyState.REPLACED || state == AssemblyState.SCRAPPED;
  }
}
