package org.equiphase.catalog;

/**
 * The steps of a capture in the order in which they are sent, each with its usual command: those of
 * IEEE 488.2 where they begin with an asterisk, else of SCPI-99, volume 2.
 */
public enum ScpiStep {
  /** Says what the instrument is. */
  IDENTIFY("*IDN?"),
  /** Empties its error queue. */
  CLEAR("*CLS"),
  /** Stops it from sweeping on, so that a sweep stands still while it is read. */
  HOLD("INIT:CONT OFF"),
  /** Chooses numbers in ASCII, or of REAL,32 or REAL,64, which come as blocks. */
  FORMAT("FORM:DATA ASC"),
  /** Which byte of a block's numbers comes first: NORM or SWAP; asked for blocks only. */
  BYTE_ORDER("FORM:BORD?"),
  START("SENS:FREQ:STAR?"),
  STOP("SENS:FREQ:STOP?"),
  POINTS("SENS:SWE:POIN?"),
  /** LIN or LOG; left out, the points are taken to be spaced evenly. */
  SPACING("SENS:SWE:SPAC?"),
  /** Chooses what is measured. */
  SELECT("SENS:FUNC \"XFR:POW:" + ScpiConnection.PARAMETER + "\""),
  TRIGGER("INIT:IMM"),
  /** Answers 1 when the sweep is done. */
  WAIT("*OPC?"),
  /** Real and imaginary part of each point in turn, or all real parts if the next step is told. */
  DATA("CALC:FORM COMP;DATA?"),
  /** All imaginary parts, for instruments that give them apart. */
  IMAGINARY_DATA(""),
  /** The next entry of the error queue, or *ESR?; asked after each command. */
  ERRORS("SYST:ERR?"),
  /** Lets it sweep on for the person before it. */
  RELEASE("INIT:CONT ON");

  private final String usual;

  ScpiStep(String usual) {
    this.usual = usual;
  }

  public String usual() {
    return usual;
  }

  boolean isQuery() {
    return usual.endsWith("?") || this == IMAGINARY_DATA;
  }

  boolean isNeeded() {
    return this == START || this == STOP || this == POINTS || this == DATA;
  }
}
