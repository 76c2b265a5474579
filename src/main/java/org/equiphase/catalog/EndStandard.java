package org.equiphase.catalog;

import java.util.List;

/**
 * A short or an open that ends an assembly measured in reflection.
 *
 * @param offsetDelayPs one-way delay from its reference plane to the short or open
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
}
