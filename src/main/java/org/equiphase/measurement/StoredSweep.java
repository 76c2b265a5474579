package org.equiphase.measurement;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Method;
import org.equiphase.rf.Sweep;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.jspecify.annotations.Nullable;

/**
 * A sweep as it is kept: one compact binary value. Layout, big-endian: format (1 byte, now 2),
 * reference impedance in ohm (8-byte float; absent in format 1), points (4 bytes), then per point
 * the frequency in Hz, the measured parameter and S11 (real and imaginary), each as an 8-byte
 * float.
 *
 * @param referenceOhm impedance that the parameters are referred to; null where it was not kept
 */
public record StoredSweep(@Nullable Double referenceOhm, List<Point> points) {

  private static final byte WITHOUT_REFERENCE = 1;
  private static final byte FORMAT = 2;
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
    return new StoredSweep(sweep.referenceOhm(), points);
  }

  /** The sweep for the calculations, in the given impedance where its own was not kept. */
  Sweep toRf(double usualReferenceOhm) {
    Sweep sweep =
        Sweep.of(
            part(Point::frequencyHz),
            part(point -> point.measured.re()),
            part(point -> point.measured.im()));
    return sweep
        .withS11(part(point -> point.s11.re()), part(point -> point.s11.im()))
        .withReferenceOhm(referenceOhm == null ? usualReferenceOhm : referenceOhm);
  }

  private double[] part(ToDoubleFunction<Point> of) {
    return points.stream().mapToDouble(of).toArray();
  }

  byte[] toBytes() {
    int head = 1 + (referenceOhm == null ? 0 : Double.BYTES) + Integer.BYTES;
    ByteBuffer buffer = ByteBuffer.allocate(head + points.size() * BYTES_PER_POINT);
    if (referenceOhm == null) {
      buffer.put(WITHOUT_REFERENCE);
    } else {
      buffer.put(FORMAT).putDouble(referenceOhm);
    }
    buffer.putInt(points.size());
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
    if (format != FORMAT && format != WITHOUT_REFERENCE) {
      throw new IllegalStateException("sweep format " + format + " is not known");
    }
    Double referenceOhm = format == WITHOUT_REFERENCE ? null : buffer.getDouble();
    int count = buffer.getInt();
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      points.add(new Point(buffer.getDouble(), complex(buffer), complex(buffer)));
    }
    return new StoredSweep(referenceOhm, points);
  }

  private static void put(ByteBuffer buffer, Complex value) {
    buffer.putDouble(value.re()).putDouble(value.im());
  }

  private static Complex complex(ByteBuffer buffer) {
    double re = buffer.getDouble();
    return new Complex(re, buffer.getDouble());
  }
}
