package org.equiphase.rf.touchstone;

/** Unit of the frequencies in a file. */
public enum FrequencyUnit {
  HZ("Hz", 0),
  KHZ("kHz", 3),
  MHZ("MHz", 6),
  GHZ("GHz", 9);

  private final String symbol;
  private final int powerOfTen;

  FrequencyUnit(String symbol, int powerOfTen) {
    this.symbol = symbol;
    this.powerOfTen = powerOfTen;
  }

  public String symbol() {
    return symbol;
  }

  /** The unit is this power of ten hertz. */
  public int powerOfTen() {
    return powerOfTen;
  }
}
