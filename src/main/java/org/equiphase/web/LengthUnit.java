package org.equiphase.web;

/** The unit in which a person reads and types lengths that are cut or set. */
public enum LengthUnit {
  MM(1),
  INCH(25.4);

  private final double mm;

  LengthUnit(double mm) {
    this.mm = mm;
  }

  public double toMm(double length) {
    return length * mm;
  }

  public double fromMm(double lengthMm) {
    return lengthMm / mm;
  }

  public LengthUnit other() {
    return this == MM ? INCH : MM;
  }
}
