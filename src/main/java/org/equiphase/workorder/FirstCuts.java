package org.equiphase.workorder;

import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.rf.Delay;
import org.equiphase.rf.FirstCut;
import org.equiphase.rf.Length;
import org.equiphase.rf.VelocityFactor;
import org.jspecify.annotations.Nullable;

/** First cuts as an order asks for them. */
public final class FirstCuts {

  private FirstCuts() {}

  /**
   * The first cut of assemblies at a position. The target delay is the nominal one less that of the
   * line stretcher where it is fitted; without one, that of the nominal length with the nominal
   * velocity factor. The position's offsets are added.
   *
   * @param stretcher the order's; null for none
   * @param position null for an assembly in the pool
   */
  public static FirstCut of(
      Specification specification,
      CableType cable,
      @Nullable LineStretcher stretcher,
      @Nullable SetPosition position) {
    return FirstCut.of(
        Delay.ofSeconds(
            nominalS(specification, cable, stretcher) + offsetS(specification, position)),
        cable.nominalVelocityFactor(),
        cable.velocityFactorTolerance(),
        new FirstCut.Connector(
            specification.connectorElectricalMm(), specification.connectorCableMm()),
        specification.trimAllowanceMm(),
        specification.cutResolutionMm());
  }

  private static double nominalS(
      Specification specification, CableType cable, @Nullable LineStretcher stretcher) {
    Double delayNs = specification.nominalDelayNs();
    if (delayNs == null) {
      return Length.ofMillimetres(specification.nominalLengthMm())
          .delayAt(cable.nominalVelocityFactor())
          .seconds();
    }
    double stretcherMm =
        stretcher == null
            ? 0
            : stretcher
                .toRf()
                .electricalLengthMm(Objects.requireNonNull(specification.stretcherStartMm()));
    return Delay.ofNanoseconds(delayNs).seconds()
        - Length.ofMillimetres(stretcherMm).delayAt(VelocityFactor.VACUUM).seconds();
  }

  /**
   * Delay that a position's offsets mean. A phase offset φ at every frequency is no delay; the one
   * that comes closest is −φ·Σf/(360·Σf²), by least squares, which at one frequency is exact.
   */
  private static double offsetS(Specification specification, @Nullable SetPosition position) {
    if (position == null) {
      return 0;
    }
    List<FrequencySpecification> frequencies = specification.frequencies();
    double sum = frequencies.stream().mapToDouble(FrequencySpecification::frequencyHz).sum();
    double squares = frequencies.stream().mapToDouble(f -> f.frequencyHz() * f.frequencyHz()).sum();
    return Delay.ofPicoseconds(position.offsetDelayPs()).seconds()
        - position.offsetPhaseDeg() * sum / (360 * squares);
  }
}
