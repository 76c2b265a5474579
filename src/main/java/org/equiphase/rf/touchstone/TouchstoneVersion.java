package org.equiphase.rf.touchstone;

/** Version of the format that a file is written in. */
public enum TouchstoneVersion {
  /** Without keywords: 1.0, and 1.1 in both senses (document revision, one R per port). */
  V1("1.1"),
  V2_0("2.0"),
  V2_1("2.1");

  private final String number;

  TouchstoneVersion(String number) {
    this.number = number;
  }

  /** Number as in the {@code [Version]} keyword. */
  public String number() {
    return number;
  }
}
