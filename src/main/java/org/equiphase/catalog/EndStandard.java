package org.equiphase.catalog;

import java.util.List;

/**
 * A short or an open that ends an assembly measured in reflection.
 *
 * @param offsetDelayPs one-way delay from its reference plane to the short or open
 * @param offsetLossDb one-way loss of that offset at 1 GHz, growing with the square root of
 *     frequency
 * @param coefficients four polynomial coefficients against frequency: of an open's fringing
 *     capacitance (1e-15 F, 1e-27 F/Hz, 1e-36 F/Hz², 1e-45 F/Hz³), of a short's inductance (1e-12
 *     H, 1e-24 H/Hz, 1e-33 H/Hz², 1e-42 H/Hz³)
 */
public record EndStandard(
    long id,
    int version,
    String name,
    Kind kind,
    double offsetDelayPs,
    double offsetLossDb,
    List<Double> coefficients,
    String note)
    implements CatalogEntry {

  public enum Kind {
    SHORT,
    OPEN
  }

  public EndStandard {
    coefficients = List.copyOf(coefficients);
  }

  /** The standard in the units of the calculations. */
  public org.equiphase.rf.EndStandard toRf() {
    double c0 = coefficients.get(0);
    double c1 = coefficients.get(1);
    double c2 = coefficients.get(2);
    double c3 = coefficients.get(3);
    return (kind == Kind.OPEN
            ? org.equiphase.rf.EndStandard.open(offsetDelayPs, c0, c1, c2, c3)
            : org.equiphase.rf.EndStandard.shorted(offsetDelayPs, c0, c1, c2, c3))
        .withOffsetLossDbAt1Ghz(offsetLossDb);
  }
}
