package org.equiphase.rf.touchstone;

import java.util.Arrays;
import org.equiphase.rf.Complex;

/** Gathers the network data, point by point, as S-parameters. */
final class NetworkBlock {
  private final Options options;
  private final double[] referenceOhm;
  private final boolean normalised;
  private final MatrixFormat matrixFormat;
  private final int[] rows;
  private final int[] columns;
  private final int maxPoints;

  private final double[] pending;
  private int pendingCount;
  private int pendingLine;

  private double[] frequencyHz = new double[256];
  private double[] sRe;
  private double[] sIm;
  private int points;

  /**
   * @param normalised whether Z, Y, H and G are normalised to R, as in version 1
   * @param n21First whether a two-port's N21 comes before its N12
   */
  NetworkBlock(
      Options options,
      double[] referenceOhm,
      boolean normalised,
      MatrixFormat matrixFormat,
      boolean n21First,
      int maxPoints) {
    this.options = options;
    this.referenceOhm = referenceOhm;
    this.normalised = normalised;
    this.matrixFormat = matrixFormat;
    this.maxPoints = maxPoints;
    int ports = referenceOhm.length;
    int elements = matrixFormat.elements(ports);
    this.rows = new int[elements];
    this.columns = new int[elements];
    int at = 0;
    for (int row = 0; row < ports; row++) {
      for (int column = matrixFormat.firstColumn(row);
          column < matrixFormat.endColumn(row, ports);
          column++) {
        boolean transposed = ports == 2 && matrixFormat == MatrixFormat.FULL && n21First;
        rows[at] = transposed ? column : row;
        columns[at++] = transposed ? row : column;
      }
    }
    this.pending = new double[1 + 2 * elements];
    this.sRe = new double[frequencyHz.length * ports * ports];
    this.sIm = new double[sRe.length];
  }

  int points() {
    return points;
  }

  double lastFrequencyHz() {
    return frequencyHz[points - 1];
  }

  /** Whether the last point still lacks numbers. */
  private boolean inPoint() {
    return pendingCount > 0;
  }

  /** Takes a line of numbers in. */
  void add(Tokens tokens, int line) {
    int ports = referenceOhm.length;
    if (ports <= 2 && tokens.size() != pending.length) {
      throw wrongCount(tokens.size(), line);
    }
    boolean startsPoint = pendingCount == 0;
    if (startsPoint == (tokens.size() % 2 == 0)) {
      throw startsPoint
          ? wrongCount(tokens.size(), line)
          : new TouchstoneException(
              line,
              "data",
              "the point that began in line "
                  + pendingLine
                  + " still lacks "
                  + (pending.length - pendingCount)
                  + " of "
                  + pending.length
                  + " numbers");
    }
    if (pendingCount + tokens.size() > pending.length) {
      throw wrongCount(tokens.size(), line);
    }
    if (startsPoint) {
      pendingLine = line;
    }
    for (int i = 0; i < tokens.size(); i++) {
      pending[pendingCount] = number(tokens, i, line);
      pendingCount++;
    }
    if (pendingCount == pending.length) {
      addPoint(line);
      pendingCount = 0;
    }
  }

  /** Long numbers, and what is none, go the slow way, which finds the words for it. */
  private double number(Tokens tokens, int i, int line) {
    boolean isFrequency = pendingCount == 0;
    double value = tokens.shortNumber(i, isFrequency ? options.unit().powerOfTen() : 0);
    if (!Double.isNaN(value) && !(isFrequency && value < 0)) {
      return value;
    }
    return isFrequency
        ? Numbers.parseFrequencyHz(tokens.get(i), options.unit(), line)
        : Numbers.parse(tokens.get(i), line, elementName((pendingCount - 1) / 2));
  }

  void requireComplete(int lastLine) {
    if (inPoint()) {
      throw new TouchstoneException(
          lastLine,
          "data",
          "the file ends within the point that began in line "
              + pendingLine
              + ", which has "
              + pendingCount
              + " of "
              + pending.length
              + " numbers; it may be cut off");
    }
  }

  double[] referenceOhms() {
    return referenceOhm;
  }

  double[] frequenciesHz() {
    return Arrays.copyOf(frequencyHz, points);
  }

  double[] realParts() {
    return Arrays.copyOf(sRe, points * referenceOhm.length * referenceOhm.length);
  }

  double[] imaginaryParts() {
    return Arrays.copyOf(sIm, points * referenceOhm.length * referenceOhm.length);
  }

  private void addPoint(int line) {
    if (points > 0 && pending[0] <= lastFrequencyHz()) {
      throw new TouchstoneException(
          pendingLine,
          "frequency",
          pending[0]
              + " Hz does not lie above the point before, "
              + lastFrequencyHz()
              + " Hz; frequencies must ascend");
    }
    if (points >= maxPoints) {
      throw new TouchstoneException(
          pendingLine, "data", "the file has more than " + maxPoints + " points, the most read");
    }
    Complex[][] s = Conversion.toS(options.kind(), matrix(line), referenceOhm);
    if (s == null) {
      throw new TouchstoneException(
          line, "data", options.kind() + " of this point can't be converted to S");
    }
    growTo(points + 1);
    frequencyHz[points] = pending[0];
    int at = points * s.length * s.length;
    for (Complex[] row : s) {
      for (Complex value : row) {
        sRe[at] = value.re();
        sIm[at++] = value.im();
      }
    }
    points++;
  }

  private Complex[][] matrix(int line) {
    int ports = referenceOhm.length;
    Complex[][] matrix = new Complex[ports][ports];
    for (int i = 0; i < rows.length; i++) {
      double first = pending[1 + 2 * i];
      if (options.format() == NumberFormat.MA && first < 0) {
        throw new TouchstoneException(
            line, elementName(i), "a magnitude must be 0 or more, not " + first);
      }
      Complex value = options.format().decode(first, pending[2 + 2 * i]);
      if (normalised && options.kind() != ParameterKind.S) {
        value =
            value.times(
                Conversion.scaleOfNormalised(options.kind(), rows[i], columns[i], referenceOhm[0]));
      }
      if (!value.isFinite()) {
        throw new TouchstoneException(line, elementName(i), first + " is too large");
      }
      matrix[rows[i]][columns[i]] = value;
      if (matrixFormat != MatrixFormat.FULL) {
        matrix[columns[i]][rows[i]] = value;
      }
    }
    return matrix;
  }

  private void growTo(int size) {
    if (size > frequencyHz.length) {
      int grown = frequencyHz.length * 2;
      int elements = referenceOhm.length * referenceOhm.length;
      frequencyHz = Arrays.copyOf(frequencyHz, grown);
      sRe = Arrays.copyOf(sRe, grown * elements);
      sIm = Arrays.copyOf(sIm, grown * elements);
    }
  }

  private String elementName(int element) {
    return options.kind().name() + (rows[element] + 1) + (columns[element] + 1);
  }

  private TouchstoneException wrongCount(int count, int line) {
    int ports = referenceOhm.length;
    String layout =
        ports <= 2
            ? pending.length + " per line (the frequency and " + rows.length + " pairs)"
            : pending.length + " per point, the first line an odd number of them";
    return new TouchstoneException(
        line,
        "data",
        "the line holds "
            + count
            + " numbers, but a file of "
            + ports
            + (ports == 1 ? " port" : " ports")
            + " has "
            + layout
            + "; check the number of ports (the file name's ending) and whether the line is cut"
            + " off");
  }
}
