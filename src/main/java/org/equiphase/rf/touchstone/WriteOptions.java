package org.equiphase.rf.touchstone;

/**
 * How to write a file.
 *
 * @param version version of the format; 1 needs the same reference resistance at all ports
 * @param format number format; only {@link NumberFormat#RI} reads back without any rounding
 * @param unit unit of the frequencies
 */
public record WriteOptions(TouchstoneVersion version, NumberFormat format, FrequencyUnit unit) {
  /** Version 1, real and imaginary parts, hertz. */
  public static final WriteOptions USUAL =
      new WriteOptions(TouchstoneVersion.V1, NumberFormat.RI, FrequencyUnit.HZ);
}
