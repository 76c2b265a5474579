package org.equiphase.measurement;

import static org.equiphase.metrology.Distribution.NORMAL;
import static org.equiphase.metrology.Sharing.COMMON;
import static org.equiphase.metrology.Sharing.INDEPENDENT;

import java.util.List;
import org.equiphase.metrology.Contribution;
import org.equiphase.metrology.UncertaintyBudget;

/**
 * Standard uncertainties of a one-way phase at the time of its reading, degrees. What drift leaves
 * over comes on top, once the reference cable has been measured again.
 */
public record SpotUncertainty(
    double instrumentDeg, double connectorDeg, double flexureDeg, double temperatureDeg) {

  /**
   * The contributions, with drift's. A stated instrument figure does not tell how much of it two
   * readings share, so none is taken as shared; an offset of the thermometer is.
   */
  public UncertaintyBudget budget(double driftDeg) {
    return new UncertaintyBudget(
        List.of(
            Contribution.of("instrument", instrumentDeg, NORMAL, INDEPENDENT),
            Contribution.of("connectors", connectorDeg, NORMAL, INDEPENDENT),
            Contribution.of("test-lead flexure", flexureDeg, NORMAL, INDEPENDENT),
            Contribution.of("drift left over", driftDeg, NORMAL, INDEPENDENT),
            Contribution.of("temperature", temperatureDeg, NORMAL, COMMON)));
  }

  double combinedDeg() {
    return budget(0).standardUncertainty();
  }
}
