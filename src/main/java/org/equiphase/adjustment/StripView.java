package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.jspecify.annotations.Nullable;

/**
 * The set strip at one frequency, in drawing units: a column per member, phase error upwards, the
 * tolerance band across. A ring shows the error now, a bar leads to the dot where it will be.
 */
public record StripView(
    double frequencyHz,
    double width,
    double height,
    double plotBottom,
    double zeroY,
    double toleranceDeg,
    double toleranceTopY,
    double toleranceHeight,
    double acceptanceTopY,
    double acceptanceHeight,
    double scaleDeg,
    List<Column> columns) {

  private static final double PLOT_TOP = 18;
  private static final double PLOT_HEIGHT = 150;
  private static final double LEFT = 64;
  private static final double COLUMN = 44;
  private static final double LABELS = 44;
  private static final double MIN_COLUMNS = 8;

  /**
   * One member.
   *
   * @param beforeY null without a usable reading
   * @param afterY null where nothing is to move
   * @param beyond the error lies outside the drawing, up (+1), down (−1), or inside (0)
   */
  public record Column(
      double x,
      String label,
      String serial,
      SetPlan.Verdict verdict,
      @Nullable Double beforeY,
      @Nullable Double afterY,
      int beyond,
      @Nullable Double errorDeg,
      @Nullable Double predictedErrorDeg,
      @Nullable Double acceptanceDeg) {}

  public static StripView of(SetPlan plan, int frequency) {
    double toleranceDeg = plan.order().specification().frequencies().get(frequency).toleranceDeg();
    double frequencyHz = plan.order().specification().frequencies().get(frequency).frequencyHz();
    double acceptanceDeg = toleranceDeg;
    double largestDeg = toleranceDeg;
    for (MemberPlan member : plan.members()) {
      if (!member.spots().isEmpty()) {
        SpotPlan spot = member.spots().get(frequency);
        acceptanceDeg = spot.acceptanceDeg();
        largestDeg = Math.max(largestDeg, Math.abs(spot.errorDeg()));
      }
    }
    // Wide enough for the band to stay readable when one member is far out.
    double scaleDeg = Math.min(Math.max(largestDeg * 1.1, toleranceDeg * 1.6), toleranceDeg * 4);
    double zeroY = PLOT_TOP + PLOT_HEIGHT / 2;
    double unitsPerDeg = PLOT_HEIGHT / 2 / scaleDeg;
    List<Column> columns = new ArrayList<>();
    for (int i = 0; i < plan.members().size(); i++) {
      columns.add(
          column(
              plan.members().get(i),
              frequency,
              LEFT + COLUMN * (i + 0.5),
              zeroY,
              unitsPerDeg,
              scaleDeg));
    }
    return new StripView(
        frequencyHz,
        LEFT + COLUMN * Math.max(MIN_COLUMNS, plan.members().size()) + 12,
        PLOT_TOP + PLOT_HEIGHT + LABELS,
        PLOT_TOP + PLOT_HEIGHT,
        zeroY,
        toleranceDeg,
        zeroY - toleranceDeg * unitsPerDeg,
        2 * toleranceDeg * unitsPerDeg,
        zeroY - acceptanceDeg * unitsPerDeg,
        2 * acceptanceDeg * unitsPerDeg,
        scaleDeg,
        columns);
  }

  private static Column column(
      MemberPlan member,
      int frequency,
      double x,
      double zeroY,
      double unitsPerDeg,
      double scaleDeg) {
    String label = member.position().label();
    String serial = member.assembly().serial();
    if (member.spots().isEmpty()) {
      return new Column(x, label, serial, member.verdict(), null, null, 0, null, null, null);
    }
    SpotPlan spot = member.spots().get(frequency);
    double shown = Math.max(-scaleDeg, Math.min(scaleDeg, spot.errorDeg()));
    int beyond = shown == spot.errorDeg() ? 0 : (int) Math.signum(spot.errorDeg());
    boolean moves = Math.abs(spot.predictedErrorDeg() - spot.errorDeg()) > 1e-9;
    double predicted = Math.max(-scaleDeg, Math.min(scaleDeg, spot.predictedErrorDeg()));
    return new Column(
        x,
        label,
        serial,
        member.verdict(),
        zeroY - shown * unitsPerDeg,
        moves ? zeroY - predicted * unitsPerDeg : null,
        beyond,
        spot.errorDeg(),
        spot.predictedErrorDeg(),
        spot.acceptanceDeg());
  }
}
