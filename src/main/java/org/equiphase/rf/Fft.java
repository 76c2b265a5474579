package org.equiphase.rf;

/**
 * Fast Fourier transform of one size, a power of two (radix 2, in place; Cooley and Tukey 1965).
 * Immutable, so that threads may share it.
 */
public final class Fft {
  private static final int LARGEST = 1 << 26;

  private final int size;
  private final double[] cos;
  private final double[] sin;

  private Fft(int size) {
    this.size = size;
    cos = new double[size / 2];
    sin = new double[size / 2];
    for (int k = 0; k < size / 2; k++) {
      double radians = 2 * Math.PI * k / size;
      cos[k] = Math.cos(radians);
      sin[k] = Math.sin(radians);
    }
  }

  /**
   * The transform of the smallest power of two that holds so many values.
   *
   * @param least number of values, 1 to 2^26
   */
  public static Fft ofAtLeast(int least) {
    if (least < 1 || least > LARGEST) {
      throw new InvalidQuantityException(
          "size", "size must lie from 1 to " + LARGEST + ", not " + least);
    }
    int size = Integer.highestOneBit(least);
    return new Fft(size == least ? size : 2 * size);
  }

  public int size() {
    return size;
  }

  /** X[k] = Σ x[n]·exp(−j2πkn/size), in place. */
  public void forward(double[] re, double[] im) {
    requireSize(re, im);
    reorder(re, im);
    for (int half = 1; half < size; half *= 2) {
      int stride = size / (2 * half);
      for (int start = 0; start < size; start += 2 * half) {
        for (int k = 0; k < half; k++) {
          double c = cos[k * stride];
          double s = sin[k * stride];
          int top = start + k;
          int bottom = top + half;
          double turnedRe = re[bottom] * c + im[bottom] * s;
          double turnedIm = im[bottom] * c - re[bottom] * s;
          re[bottom] = re[top] - turnedRe;
          im[bottom] = im[top] - turnedIm;
          re[top] += turnedRe;
          im[top] += turnedIm;
        }
      }
    }
  }

  /** x[n] = Σ X[k]·exp(+j2πkn/size), in place and without the factor 1/size. */
  public void inverseUnscaled(double[] re, double[] im) {
    // Swapping the parts conjugates and turns by 90° on the way in and out, which inverts.
    forward(im, re);
  }

  private void reorder(double[] re, double[] im) {
    int shift = Integer.numberOfLeadingZeros(size) + 1;
    for (int i = 1; i < size - 1; i++) {
      int j = Integer.reverse(i) >>> shift;
      if (j > i) {
        swap(re, i, j);
        swap(im, i, j);
      }
    }
  }

  private static void swap(double[] values, int i, int j) {
    double value = values[i];
    values[i] = values[j];
    values[j] = value;
  }

  private void requireSize(double[] re, double[] im) {
    if (re.length != size || im.length != size) {
      throw new IllegalArgumentException(
          "the transform is of " + size + " values, not " + re.length + " and " + im.length);
    }
  }
}
