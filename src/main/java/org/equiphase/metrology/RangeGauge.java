package org.equiphase.metrology;

import java.util.List;

/**
 * A gauge study by average and range.
 *
 * @param variation the result
 * @param averageRanges mean range of each appraiser's trials (R̄)
 * @param averageRange their mean
 * @param rangeUpperLimit control limit of a single range, D4 times that mean
 * @param rangesBeyond part and appraiser whose range exceeds it: to be looked at, and read again
 *     where there was a slip
 * @param appraiserSpread largest less smallest mean of an appraiser (X̄diff)
 * @param partRange largest less smallest mean of a part (Rp)
 */
public record RangeGauge(
    GaugeVariation variation,
    List<Double> averageRanges,
    double averageRange,
    double rangeUpperLimit,
    List<Cell> rangesBeyond,
    double appraiserSpread,
    double partRange) {

  /**
   * The trials of one appraiser on one part, both counted from 0.
   *
   * @param range largest less smallest reading
   */
  public record Cell(int part, int appraiser, double range) {}
}
