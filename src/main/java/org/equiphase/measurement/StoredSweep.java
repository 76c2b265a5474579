package org.equiphase.measurement;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Method;
import org.equiphase.rf.Sweep;
import org.equiphase.rf.touchstone.TouchstoneFile;

/**
 * A sweep as it is kept: one compact binary value. Layout, big-endian: format (1 byte, now 1),
 * points (4 bytes), then per point the frequency in Hz, the measured parameter and S11 (real and
 * imaginary), each as an 8-byte float.
 */
public record StoredSweep(List<Point> points) {

  private static final byte FORMAT = 1;
  private static final int BYTES_PER_POINT = 5 * Double.BYTES;

  /**
   * One point.
   *
   * @param measured S21, or S11 in reflection
   */
  public record Point(double frequencyHz, Complex measured, Complex s11) {}

  public StoredSweep {
    points = List.copyOf(points);
  }

  /** The parameter that the method reads, and S11. */
  static StoredSweep of(TouchstoneFile file, Method method) {
    Sweep sweep = file.sweep(method);
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < sweep.points(); i++) {
      points.add(new Point(sweep.frequencyHz(i), sweep.value(i), file.s(i, 1, 1)));
    }
    return new StoredSweep(points);
  }

  byte[] toBytes() {
    ByteBuffer buffer = ByteBuffer.allocate(1 + Integer.BYTES + points.size() * BYTES_PER_POINT);
    buffer.put(FORMAT).putInt(points.size());
    for (Point point : points) {
      buffer.putDouble(point.frequencyHz);
      put(buffer, point.measured);
      put(buffer, point.s11);
    }
    return buffer.array();
  }

  static StoredSweep fromBytes(byte[] bytes) {
    ByteBuffer buffer = ByteBuffer.wrap(bytes);
    byte format = buffer.get();
    if (format != FORMAT) {
      throw new IllegalStateException("sweep format " + format + " is not known");
    }
    int count = buffer.getInt();
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      points.add(new Point(buffer.getDouble(), complex(buffer), complex(buffer)));
    }
    return new StoredSweep(points);
  }

  private static void put(ByteBuffer buffer, Complex value) {
    buffer.putDouble(value.re()).putDouble(value.im());
  }

  private static Complex complex(ByteBuffer buffer) {
    double re = buffer.getDouble();
    return new Complex(re, buffer.getDouble());
  }
}
