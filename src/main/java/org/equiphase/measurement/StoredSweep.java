package org.equiphase.measurement;

import java.nio.ByteBuffer;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Method;
import org.equiphase.rf.Sweep;
import org.equiphase.rf.touchstone.TouchstoneFile;

/**
 * A sweep as it is kept: one compact binary value. Layout, big-endian: format (1 byte, now 1),
 * points (4 bytes), then per point the frequency in Hz, the measured parameter and S11 (real and
 * imaginary), each as an 8-byte float.
 *
 * @param measured real and imaginary part of S21, or of S11 in reflection, per point
 * @param s11 real and imaginary part of S11 per point
 */
public record StoredSweep(double[] frequencyHz, double[][] measured, double[][] s11) {

  private static final byte FORMAT = 1;
  private static final int BYTES_PER_POINT = 5 * Double.BYTES;

  /** The parameter that the method reads, and S11. */
  static StoredSweep of(TouchstoneFile file, Method method) {
    Sweep sweep = file.sweep(method);
    int points = sweep.points();
    double[][] measured = new double[points][];
    double[][] s11 = new double[points][];
    for (int i = 0; i < points; i++) {
      Complex value = sweep.value(i);
      Complex reflected = file.s(i, 1, 1);
      measured[i] = new double[] {value.re(), value.im()};
      s11[i] = new double[] {reflected.re(), reflected.im()};
    }
    return new StoredSweep(sweep.frequenciesHz(), measured, s11);
  }

  public int points() {
    return frequencyHz.length;
  }

  byte[] toBytes() {
    ByteBuffer buffer = ByteBuffer.allocate(1 + Integer.BYTES + points() * BYTES_PER_POINT);
    buffer.put(FORMAT).putInt(points());
    for (int i = 0; i < points(); i++) {
      buffer
          .putDouble(frequencyHz[i])
          .putDouble(measured[i][0])
          .putDouble(measured[i][1])
          .putDouble(s11[i][0])
          .putDouble(s11[i][1]);
    }
    return buffer.array();
  }

  static StoredSweep fromBytes(byte[] bytes) {
    ByteBuffer buffer = ByteBuffer.wrap(bytes);
    byte format = buffer.get();
    if (format != FORMAT) {
      throw new IllegalStateException("sweep format " + format + " is not known");
    }
    int points = buffer.getInt();
    double[] frequencyHz = new double[points];
    double[][] measured = new double[points][2];
    double[][] s11 = new double[points][2];
    for (int i = 0; i < points; i++) {
      frequencyHz[i] = buffer.getDouble();
      measured[i] = new double[] {buffer.getDouble(), buffer.getDouble()};
      s11[i] = new double[] {buffer.getDouble(), buffer.getDouble()};
    }
    return new StoredSweep(frequencyHz, measured, s11);
  }
}
