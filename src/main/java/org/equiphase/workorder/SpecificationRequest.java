package org.equiphase.workorder;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/** A specification as a request carries it: what is missing is named, not taken for zero. */
record SpecificationRequest(
    @Nullable Long cableTypeId,
    @Nullable String connector,
    @Nullable Double connectorTorqueNm,
    @Nullable Double connectorElectricalMm,
    @Nullable Double connectorCableMm,
    @Nullable Method method,
    @Nullable Basis basis,
    @Nullable Turns turns,
    @Nullable Double nominalLengthMm,
    @Nullable Double nominalLengthToleranceMm,
    @Nullable Double nominalDelayNs,
    @Nullable Double trimAllowanceMm,
    @Nullable Double cutResolutionMm,
    @Nullable Double cutStandardUncertaintyMm,
    @Nullable Double tooShortLimit,
    @Nullable Long lineStretcherId,
    @Nullable Double stretcherStartMm,
    @Nullable Double aimFraction,
    @Nullable Double vswrLimit,
    @Nullable Double referenceTemperatureC,
    @Nullable Double temperatureLowC,
    @Nullable Double temperatureHighC,
    @Nullable DecisionRule decisionRule,
    @Nullable Double guardFactor,
    @Nullable List<FrequencySpecification> frequencies) {

  private static final double DEFAULT_AIM = 0.3;
  private static final double DEFAULT_TOO_SHORT_LIMIT = 0.02;

  Specification read() {
    String at = "specification.";
    return new Specification(
        present(at + "cableTypeId", cableTypeId),
        present(at + "connector", connector),
        connectorTorqueNm,
        connectorElectricalMm == null ? 0 : connectorElectricalMm,
        connectorCableMm == null ? 0 : connectorCableMm,
        present(at + "method", method),
        present(at + "basis", basis),
        present(at + "turns", turns),
        present(at + "nominalLengthMm", nominalLengthMm),
        present(at + "nominalLengthToleranceMm", nominalLengthToleranceMm),
        nominalDelayNs,
        present(at + "trimAllowanceMm", trimAllowanceMm),
        present(at + "cutResolutionMm", cutResolutionMm),
        cutUncertaintyMm(at),
        tooShortLimit == null ? DEFAULT_TOO_SHORT_LIMIT : tooShortLimit,
        lineStretcherId,
        stretcherStartMm,
        aimFraction == null ? DEFAULT_AIM : aimFraction,
        vswrLimit,
        present(at + "referenceTemperatureC", referenceTemperatureC),
        temperatureLowC,
        temperatureHighC,
        present(at + "decisionRule", decisionRule),
        guardFactor == null ? 1 : guardFactor,
        present(at + "frequencies", frequencies));
  }

  /** How well the shop cuts has to be told where it may cut. */
  private double cutUncertaintyMm(String at) {
    boolean cuts = trimAllowanceMm == null || trimAllowanceMm > 0;
    return cutStandardUncertaintyMm == null && !cuts
        ? 0
        : present(at + "cutStandardUncertaintyMm", cutStandardUncertaintyMm);
  }
}
