package org.equiphase.measurement.scpi;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;
import org.jspecify.annotations.Nullable;

/**
 * Numbers as they came: a list in ASCII (NR1, NR2 or NR3, separated by commas; IEEE 488.2, 8.7) or
 * the bytes of a block.
 */
public final class NumberAnswer {

  private final String query;
  private final String text;
  private final byte @Nullable [] block;

  private NumberAnswer(String query, String text, byte @Nullable [] block) {
    this.query = query;
    this.text = text;
    this.block = block;
  }

  static NumberAnswer ofText(String query, String text) {
    return new NumberAnswer(query, text.strip(), null);
  }

  static NumberAnswer ofBlock(String query, byte[] block) {
    return new NumberAnswer(query, "", block);
  }

  public boolean isBlock() {
    return block != null;
  }

  /**
   * The numbers. Those of a block are IEEE 754 floats of 4 or 8 bytes, whichever its length fits.
   *
   * @param count how many there must be
   * @param order of a block's bytes
   * @throws UnusableAnswer if there are more or fewer, or what came is no number
   */
  public double[] numbers(int count, ByteOrder order) {
    return block == null ? listed(count) : packed(block, count, order);
  }

  private double[] packed(byte[] bytes, int count, ByteOrder order) {
    ByteBuffer buffer = ByteBuffer.wrap(bytes).order(order);
    double[] numbers = new double[count];
    boolean single = bytes.length == count * Float.BYTES;
    if (!single && bytes.length != count * Double.BYTES) {
      throw new UnusableAnswer(
          "blockLength", query, bytes.length, count, count * Float.BYTES, count * Double.BYTES);
    }
    for (int i = 0; i < count; i++) {
      numbers[i] = single ? buffer.getFloat() : buffer.getDouble();
    }
    return numbers;
  }

  private double[] listed(int count) {
    String[] parts = text.split(",", -1);
    if (parts.length != count) {
      throw new UnusableAnswer("count", query, parts.length, count, ScpiSocket.shown(text));
    }
    double[] numbers = new double[count];
    for (int i = 0; i < count; i++) {
      numbers[i] = number(query, parts[i]);
    }
    return numbers;
  }

  /**
   * A number in ASCII.
   *
   * @throws UnusableAnswer if it is none
   */
  static double number(String query, String text) {
    String digits = text.strip();
    if (!digits.matches("[+-]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d+)?")) {
      throw new UnusableAnswer("noNumber", query, ScpiSocket.shown(digits));
    }
    return Double.parseDouble(digits);
  }
}
