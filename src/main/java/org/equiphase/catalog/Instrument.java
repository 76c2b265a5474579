package org.equiphase.catalog;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * A network analyzer with the standard uncertainty that its phase readings are given.
 *
 * @param connection how sweeps are captured from it; null where they are not
 */
public record Instrument(
    long id,
    int version,
    String name,
    String serialNumber,
    double phaseStandardUncertaintyDeg,
    LocalDate calibrationDue,
    String note,
    @Nullable ScpiConnection connection)
    implements CatalogEntry {

  /** An instrument that is not connected. */
  public Instrument(
      long id,
      int version,
      String name,
      String serialNumber,
      double phaseStandardUncertaintyDeg,
      LocalDate calibrationDue,
      String note) {
    this(id, version, name, serialNumber, phaseStandardUncertaintyDeg, calibrationDue, note, null);
  }

  public Instrument withConnection(@Nullable ScpiConnection connection) {
    return new Instrument(
        id,
        version,
        name,
        serialNumber,
        phaseStandardUncertaintyDeg,
        calibrationDue,
        note,
        connection);
  }
}
