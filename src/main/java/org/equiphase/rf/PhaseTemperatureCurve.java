package org.equiphase.rf;

/**
 * Change of a cable type's electrical length with temperature, a table in parts per million of its
 * value at a reference, linear between the points, with no value outside. PTFE has a knee near room
 * temperature, so points should lie close there.
 */
public final class PhaseTemperatureCurve {
  private static final String FIELD = "phaseTemperatureCurve";

  private final PiecewiseLinear ppmByCelsius;

  private PhaseTemperatureCurve(PiecewiseLinear ppmByCelsius) {
    this.ppmByCelsius = ppmByCelsius;
  }

  /**
   * A curve through points.
   *
   * @param temperatureC temperatures, °C, strictly ascending, at least two
   * @param ppm change of electrical length at each, ppm, above −1 000 000
   * @throws InvalidQuantityException for {@code phaseTemperatureCurve} that breaks these rules
   */
  public static PhaseTemperatureCurve of(double[] temperatureC, double[] ppm) {
    PiecewiseLinear table = new PiecewiseLinear(FIELD, temperatureC, ppm);
    for (double value : ppm) {
      if (value <= -1e6) {
        throw new InvalidQuantityException(
            FIELD,
            "phaseTemperatureCurve: a cable can't lose its whole length, as "
                + value
                + " ppm would say");
      }
    }
    return new PhaseTemperatureCurve(table);
  }

  public double lowestC() {
    return ppmByCelsius.first();
  }

  public double highestC() {
    return ppmByCelsius.last();
  }

  public double[] temperaturesC() {
    return ppmByCelsius.xs();
  }

  public double[] ppms() {
    return ppmByCelsius.ys();
  }

  /**
   * Change of electrical length at a temperature, ppm.
   *
   * @throws InvalidQuantityException for {@code temperatureC} outside the table
   */
  public double ppmAt(double temperatureC) {
    Require.finite("temperatureC", temperatureC);
    if (!ppmByCelsius.covers(temperatureC)) {
      throw new InvalidQuantityException(
          "temperatureC",
          "temperatureC "
              + temperatureC
              + " lies outside the cable type's curve, "
              + lowestC()
              + " to "
              + highestC()
              + " °C");
    }
    return ppmByCelsius.valueAt(temperatureC);
  }

  /**
   * Steepest change between two temperatures, as a positive number, ppm per °C. What lies outside
   * the table is left out, down to the slope at its edge.
   *
   * @param fromC lower temperature, °C
   * @param toC higher temperature, °C, at least {@code fromC}
   * @throws InvalidQuantityException for a value that is not finite, or in the wrong order
   */
  public double steepestPpmPerC(double fromC, double toC) {
    Require.finite("fromC", fromC);
    if (!(Require.finite("toC", toC) >= fromC)) {
      throw new InvalidQuantityException("toC", "toC " + toC + " lies below fromC " + fromC);
    }
    double[] c = temperaturesC();
    double[] ppm = ppms();
    double low = Math.min(Math.max(fromC, lowestC()), highestC());
    double high = Math.min(Math.max(toC, lowestC()), highestC());
    double steepest = 0;
    for (int i = 1; i < c.length; i++) {
      if (c[i - 1] <= high && c[i] >= low) {
        steepest = Math.max(steepest, Math.abs((ppm[i] - ppm[i - 1]) / (c[i] - c[i - 1])));
      }
    }
    return steepest;
  }

  /**
   * Total insertion phase that a cable would have at another temperature, degrees.
   *
   * @param totalPhaseDeg total phase with all its turns at {@code fromC}, degrees
   * @param fromC temperature of the reading, °C
   * @param toC temperature wanted, °C
   * @throws InvalidQuantityException for a value that is not finite or outside the table
   */
  public double correctDeg(double totalPhaseDeg, double fromC, double toC) {
    Require.finite("totalPhaseDeg", totalPhaseDeg);
    double from = ppmAt(fromC);
    // The difference alone keeps a long cable's phase exact where nothing changes.
    return totalPhaseDeg + totalPhaseDeg * (ppmAt(toC) - from) / (1e6 + from);
  }
}
