package org.equiphase.workorder;

import java.util.List;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/**
 * What an order asks of every assembly and set.
 *
 * @param connectorTorqueNm coupling torque of the connector, N·m; null where its maker gives none
 * @param connectorElectricalMm electrical length that one connector adds beyond the end of the
 *     cable, mm of free space
 * @param connectorCableMm cable that goes into one connector: its stripped end
 * @param nominalLengthMm physical length expected of a finished assembly
 * @param nominalLengthToleranceMm how far an unadjusted assembly may be from it, either way
 * @param nominalDelayNs target delay with basis NOMINAL; null takes it from the nominal length
 * @param trimAllowanceMm most that may be cut from one assembly in all; 0 forbids cuts
 * @param cutResolutionMm step to which cuts are instructed
 * @param cutStandardUncertaintyMm how far a cut lands from its mark, standard uncertainty
 * @param tooShortLimit largest probability accepted that a cut leaves the assembly too short, 0…1
 * @param lineStretcherId stretcher fitted to each assembly, or null
 * @param stretcherStartMm reading at which it is fitted
 * @param aimFraction share of the acceptance limit that an adjustment aims to stay within, 0…1
 * @param temperatureLowC coldest and temperatureHighC hottest at which the set works; null where
 *     not told
 * @param guardFactor r in guard band = r·U, with decision rule GUARDED
 */
public record Specification(
    long cableTypeId,
    String connector,
    @Nullable Double connectorTorqueNm,
    double connectorElectricalMm,
    double connectorCableMm,
    Method method,
    Basis basis,
    Turns turns,
    double nominalLengthMm,
    double nominalLengthToleranceMm,
    @Nullable Double nominalDelayNs,
    double trimAllowanceMm,
    double cutResolutionMm,
    double cutStandardUncertaintyMm,
    double tooShortLimit,
    @Nullable Long lineStretcherId,
    @Nullable Double stretcherStartMm,
    double aimFraction,
    @Nullable Double vswrLimit,
    double referenceTemperatureC,
    @Nullable Double temperatureLowC,
    @Nullable Double temperatureHighC,
    DecisionRule decisionRule,
    double guardFactor,
    List<FrequencySpecification> frequencies) {

  public Specification {
    frequencies = List.copyOf(frequencies);
  }

  /** Guard band at one frequency for readings of standard uncertainty {@code u} degrees. */
  public double guardDeg(int frequency, double standardUncertaintyDeg) {
    if (decisionRule == DecisionRule.SIMPLE) {
      return 0;
    }
    double wanted = guardFactor * 2 * standardUncertaintyDeg;
    return Math.min(wanted, frequencies.get(frequency).toleranceDeg());
  }
}
