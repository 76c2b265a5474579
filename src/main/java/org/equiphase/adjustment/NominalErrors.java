package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.springframework.stereotype.Service;

/** Errors of single readings against the nominal target, wherever the centre of their set lies. */
@Service
public class NominalErrors {

  private final Catalog catalog;

  NominalErrors(Catalog catalog) {
    this.catalog = catalog;
  }

  /**
   * How a reading's error comes about, per frequency of the specification; empty where its turns
   * are not known or its drift is not.
   *
   * @param position whose offset belongs to the target
   */
  public List<PhaseSum> of(
      Specification specification, SetPosition position, Reading reading, ReadingDrift drift) {
    if (!reading.tells(specification.turns()) || !drift.usable()) {
      return List.of();
    }
    Adjuster adjuster = Adjuster.ofCatalog(specification, catalog);
    List<PhaseSum> sums = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      double nominalDeg = adjuster.nominalPhaseDeg(f) + position.offsetDeg(f.frequencyHz());
      sums.add(PhaseSum.of(reading, k, drift, nominalDeg, adjuster));
    }
    return sums;
  }
}
