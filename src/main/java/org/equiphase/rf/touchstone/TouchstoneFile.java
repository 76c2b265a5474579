package org.equiphase.rf.touchstone;

import java.util.List;
import org.equiphase.rf.Complex;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.Method;
import org.equiphase.rf.Sweep;

/**
 * What a Touchstone file holds, its network parameters as S-parameters referred to the file's
 * reference resistances.
 */
public final class TouchstoneFile {
  private final TouchstoneVersion version;
  private final ParameterKind kind;
  private final double[] referenceOhm;
  private final double[] frequencyHz;
  private final double[] sRe;
  private final double[] sIm;
  private final List<NoisePoint> noise;
  private final List<String> comments;
  private final List<String> warnings;

  /** Arrays are kept, not copied: for this package only. */
  TouchstoneFile(
      TouchstoneVersion version,
      ParameterKind kind,
      double[] referenceOhm,
      double[] frequencyHz,
      double[] sRe,
      double[] sIm,
      List<NoisePoint> noise,
      List<String> comments,
      List<String> warnings) {
    this.version = version;
    this.kind = kind;
    this.referenceOhm = referenceOhm;
    this.frequencyHz = frequencyHz;
    this.sRe = sRe;
    this.sIm = sIm;
    this.noise = List.copyOf(noise);
    this.comments = List.copyOf(comments);
    this.warnings = List.copyOf(warnings);
  }

  /**
   * A file to write.
   *
   * @param referenceOhm reference resistance of each port, ohm, above 0; its length is the number
   *     of ports
   * @param frequencyHz frequencies, Hz, 0 or more, strictly ascending, at least one
   * @param s S-parameters, indexed by point, row and column
   * @param noise noise parameters, for two ports only, frequencies ascending
   * @throws TouchstoneException if the parts don't fit together or hold unusable numbers
   */
  public static TouchstoneFile of(
      double[] referenceOhm, double[] frequencyHz, Complex[][][] s, List<NoisePoint> noise) {
    int ports = referenceOhm.length;
    if (ports < 1 || ports > TouchstoneReader.MAX_PORTS) {
      throw new TouchstoneException(
          0, "ports", "from 1 to " + TouchstoneReader.MAX_PORTS + " are possible, not " + ports);
    }
    for (double ohm : referenceOhm) {
      if (!(ohm > 0) || Double.isInfinite(ohm)) {
        throw new TouchstoneException(
            0, "reference", "resistances must be finite and above 0 ohm, not " + ohm);
      }
    }
    if (frequencyHz.length == 0 || s.length != frequencyHz.length) {
      throw new TouchstoneException(
          0, "points", frequencyHz.length + " frequencies and " + s.length + " matrices don't fit");
    }
    requireAscending(frequencyHz);
    if (!noise.isEmpty() && ports != 2) {
      throw new TouchstoneException(0, "noise", "noise parameters need 2 ports, not " + ports);
    }
    requireAscending(noise.stream().mapToDouble(NoisePoint::frequencyHz).toArray());
    double[] sRe = new double[frequencyHz.length * ports * ports];
    double[] sIm = new double[sRe.length];
    int at = 0;
    for (Complex[][] matrix : s) {
      for (int row = 0; row < ports; row++) {
        for (int column = 0; column < ports; column++) {
          Complex value = element(matrix, ports, row, column);
          sRe[at] = value.re();
          sIm[at++] = value.im();
        }
      }
    }
    return new TouchstoneFile(
        TouchstoneVersion.V1,
        ParameterKind.S,
        referenceOhm.clone(),
        frequencyHz.clone(),
        sRe,
        sIm,
        noise,
        List.of(),
        List.of());
  }

  public TouchstoneVersion version() {
    return version;
  }

  /** The parameters that the file was written in; here they are S whatever they were. */
  public ParameterKind kind() {
    return kind;
  }

  public int ports() {
    return referenceOhm.length;
  }

  public int points() {
    return frequencyHz.length;
  }

  /** Reference resistance of each port, ohm. */
  public double[] referenceOhms() {
    return referenceOhm.clone();
  }

  public double[] frequenciesHz() {
    return frequencyHz.clone();
  }

  public double frequencyHz(int point) {
    return frequencyHz[point];
  }

  /**
   * An S-parameter.
   *
   * @param point index of the frequency, from 0
   * @param row port at which the wave leaves, from 1
   * @param column port at which the wave enters, from 1
   */
  public Complex s(int point, int row, int column) {
    int at = index(point, row, column);
    return new Complex(sRe[at], sIm[at]);
  }

  /** Noise parameters by ascending frequency; empty where there are none. */
  public List<NoisePoint> noise() {
    return noise;
  }

  /** Comment lines ahead of the data, without their exclamation marks. */
  public List<String> comments() {
    return comments;
  }

  /** What the reader put up with. */
  public List<String> warnings() {
    return warnings;
  }

  /**
   * The sweep for a method: S21 of a two-port with S11 beside it in transmission, S11 in
   * reflection.
   *
   * @throws InvalidQuantityException for {@code file} with other than 1 or 2 ports, or with one
   *     where transmission needs two
   */
  public Sweep sweep(Method method) {
    if (ports() > 2) {
      throw new InvalidQuantityException(
          "file", "a cable has one or two ports, but the file is of " + ports());
    }
    if (method == Method.TRANSMISSION && ports() != 2) {
      throw new InvalidQuantityException(
          "file",
          "method TRANSMISSION needs a two-port file (.s2p), but this one has one port;"
              + " REFLECTION_SHORT and REFLECTION_OPEN take it");
    }
    int measured = method.isReflection() ? 1 : 2;
    Sweep sweep =
        Sweep.of(frequencyHz, part(sRe, measured), part(sIm, measured))
            .withReferenceOhm(referenceOhm[0]);
    return method.isReflection() ? sweep : sweep.withS11(part(sRe, 1), part(sIm, 1));
  }

  /** Column 1 of the given row over all points. */
  private double[] part(double[] values, int row) {
    double[] part = new double[points()];
    for (int point = 0; point < part.length; point++) {
      part[point] = values[index(point, row, 1)];
    }
    return part;
  }

  private int index(int point, int row, int column) {
    int ports = ports();
    if (row < 1 || row > ports || column < 1 || column > ports) {
      throw new IndexOutOfBoundsException("S" + row + column + " of " + ports + " ports");
    }
    return (point * ports + row - 1) * ports + column - 1;
  }

  private static Complex element(Complex[][] matrix, int ports, int row, int column) {
    if (matrix.length != ports || matrix[row].length != ports) {
      throw new TouchstoneException(0, "S", "matrices must be " + ports + " by " + ports);
    }
    Complex value = matrix[row][column];
    if (!value.isFinite()) {
      throw new TouchstoneException(
          0, "S" + (row + 1) + (column + 1), "must be finite, not " + value);
    }
    return value;
  }

  private static void requireAscending(double[] frequencyHz) {
    double before = -1;
    for (double hertz : frequencyHz) {
      if (!(hertz >= 0 && hertz > before) || Double.isInfinite(hertz)) {
        throw new TouchstoneException(
            0, "frequency", "frequencies must be 0 or more and ascend, not " + hertz + " Hz");
      }
      before = hertz;
    }
  }
}
