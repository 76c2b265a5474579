package org.equiphase.workorder;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.rf.FirstCut;

/**
 * The cable that an order takes: its pieces by first cut, each with the width of the saw cut, and a
 * share on top for what is lost.
 */
public record CableNeed(List<Pieces> pieces, double metres) {

  static final double USUAL_KERF_MM = 2;
  static final double USUAL_WASTE_PERCENT = 5;

  /** Assemblies that are cut alike. */
  public record Pieces(int count, FirstCut cut) {}

  public CableNeed {
    pieces = List.copyOf(pieces);
  }

  /**
   * @param cuts of each assembly
   * @param kerfMm cable that each saw cut turns to dust
   * @param wastePercent what is lost, in percent of what is cut
   */
  static CableNeed of(List<FirstCut> cuts, double kerfMm, double wastePercent) {
    Map<FirstCut, Integer> counts = new LinkedHashMap<>();
    cuts.forEach(cut -> counts.merge(cut, 1, Integer::sum));
    List<Pieces> pieces = new ArrayList<>();
    counts.forEach((cut, count) -> pieces.add(new Pieces(count, cut)));
    double mm =
        pieces.stream().mapToDouble(p -> p.cut().cableMm(p.count(), kerfMm)).sum()
            * (1 + wastePercent / 100);
    return new CableNeed(pieces, mm / 1000);
  }
}
