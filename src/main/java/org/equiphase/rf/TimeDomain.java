package org.equiphase.rf;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * Where along a cable a sweep's reflections sit: the inverse Fourier transform of S11 in band-pass
 * mode, ρ(t) = Σ w_k·S11(f_k)·exp(j·2π·f_k·t)/Σ w_k, at the distance v·c·t/2 from the reference
 * plane. A full reflection without loss reads 1 (with loss on the way, less). Band-pass mode shows
 * places and sizes, not whether the impedance rises or falls.
 *
 * <p>The view repeats itself after the alias-free range: what lies beyond it appears at a wrong
 * place.
 */
public final class TimeDomain {
  private static final int LEAST_POINTS = 8;
  private static final int MOST_POINTS = 50_000;
  private static final int BINS_PER_POINT = 4;
  private static final int MOST_PEAKS = 50;

  // Of a step; further off, an end of the sweep would be seen turned by more than 4°.
  private static final double UNEVEN = 0.01;

  // −60 dB; test ports and connectors reflect more.
  private static final double LEAST_REFLECTION = 1e-3;

  // A peak must stand this far above what the sidelobes of larger ones may add up to.
  private static final double ABOVE_SIDELOBES = 2;
  private static final int GOLDEN_STEPS = 30;
  private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;

  /**
   * A reflection.
   *
   * @param distanceMm distance from the reference plane along the cable, mm
   * @param reflection magnitude, 1 for a full reflection
   */
  public record Peak(double distanceMm, double reflection) {
    /** Return loss, dB, positive. */
    public double returnLossDb() {
      return Mismatch.returnLossDbOfGamma(Math.min(1, reflection));
    }
  }

  private final Window window;
  private final double[] distanceMm;
  private final double[] reflection;
  private final List<Peak> peaks;
  private final double resolutionMm;
  private final double aliasFreeMm;

  private TimeDomain(
      Window window,
      double[] distanceMm,
      double[] reflection,
      List<Peak> peaks,
      double resolutionMm,
      double aliasFreeMm) {
    this.window = window;
    this.distanceMm = distanceMm;
    this.reflection = reflection;
    this.peaks = peaks;
    this.resolutionMm = resolutionMm;
    this.aliasFreeMm = aliasFreeMm;
  }

  /**
   * The view of a reflection sweep.
   *
   * @param s11 sweep of S11 in even steps, 8 to 50 000 points
   * @param velocityFactor velocity factor of the cable, which turns time into distance
   * @throws InvalidQuantityException for {@code file} where the steps differ or the points are too
   *     few or too many
   */
  public static TimeDomain ofReflection(Sweep s11, Window window, VelocityFactor velocityFactor) {
    double stepHz = evenStepHz(s11);
    double[] weights = window.weights(s11.points());
    double sum = 0;
    for (double weight : weights) {
      sum += weight;
    }
    double[] re = new double[weights.length];
    double[] im = new double[weights.length];
    for (int k = 0; k < weights.length; k++) {
      Complex value = s11.value(k).times(weights[k] / sum);
      re[k] = value.re();
      im[k] = value.im();
      weights[k] /= sum;
    }
    return new Transform(stepHz, re, im, weights).view(window, velocityFactor);
  }

  public Window window() {
    return window;
  }

  public int bins() {
    return distanceMm.length;
  }

  /** Distance of a bin from the reference plane, mm; the first lie a little ahead of it. */
  public double distanceMm(int bin) {
    return distanceMm[bin];
  }

  /** Magnitude of the reflection in a bin. */
  public double reflection(int bin) {
    return reflection[bin];
  }

  public double[] distancesMm() {
    return distanceMm.clone();
  }

  public double[] reflections() {
    return reflection.clone();
  }

  /** Reflections above −60 dB that are no sidelobes of larger ones, by distance; 50 at most. */
  public List<Peak> peaks() {
    return peaks;
  }

  /** Width of a lone reflection at half its height (−6 dB), mm: two nearer ones merge. */
  public double resolutionMm() {
    return resolutionMm;
  }

  /** Length after which the view repeats itself, v·c/(2·step), mm. */
  public double aliasFreeMm() {
    return aliasFreeMm;
  }

  private static double evenStepHz(Sweep sweep) {
    int points = sweep.points();
    if (points < LEAST_POINTS || points > MOST_POINTS) {
      throw new InvalidQuantityException(
          Sweep.FIELD,
          "a time-domain view needs from "
              + LEAST_POINTS
              + " to "
              + MOST_POINTS
              + " points, not "
              + points);
    }
    double stepHz = (sweep.stopHz() - sweep.startHz()) / (points - 1);
    for (int k = 0; k < points; k++) {
      double evenHz = sweep.startHz() + k * stepHz;
      if (Math.abs(sweep.frequencyHz(k) - evenHz) > UNEVEN * stepHz) {
        throw new InvalidQuantityException(
            Sweep.FIELD,
            "a time-domain view needs a sweep in even steps, but point "
                + (k + 1)
                + " lies at "
                + sweep.frequencyHz(k)
                + " Hz, where even steps of "
                + stepHz
                + " Hz would have "
                + evenHz
                + " Hz; sweep again with linear spacing");
      }
    }
    return stepHz;
  }

  /** The transform over time in units of 1/step, of which the view repeats after 1. */
  private static final class Transform {
    private final double stepHz;
    private final double[] re;
    private final double[] im;
    private final double[] weights;

    Transform(double stepHz, double[] re, double[] im, double[] weights) {
      this.stepHz = stepHz;
      this.re = re;
      this.im = im;
      this.weights = weights;
    }

    TimeDomain view(Window window, VelocityFactor velocityFactor) {
      double aliasFreeMm = velocityFactor.metresPerSecond() / (2 * stepHz) * 1e3;
      double width = 2 * halfWidth();
      Fft fft = Fft.ofAtLeast(BINS_PER_POINT * re.length);
      int bins = fft.size();
      double[] sumRe = Arrays.copyOf(re, bins);
      double[] sumIm = Arrays.copyOf(im, bins);
      fft.inverseUnscaled(sumRe, sumIm);
      // A reflection at the reference plane is to be seen whole, so its width comes ahead of it.
      int ahead = (int) Math.ceil(width * bins);
      double[] distanceMm = new double[bins];
      double[] reflection = new double[bins];
      for (int i = 0; i < bins; i++) {
        int k = Math.floorMod(i - ahead, bins);
        distanceMm[i] = (i - ahead) * aliasFreeMm / bins;
        reflection[i] = Math.hypot(sumRe[k], sumIm[k]);
      }
      return new TimeDomain(
          window,
          distanceMm,
          reflection,
          peaks(window, reflection, ahead, aliasFreeMm),
          width * aliasFreeMm,
          aliasFreeMm);
    }

    private List<Peak> peaks(Window window, double[] reflection, int ahead, double aliasFreeMm) {
      int bins = reflection.length;
      List<Integer> tops = new ArrayList<>();
      for (int i = 0; i < bins; i++) {
        double before = reflection[Math.floorMod(i - 1, bins)];
        double after = reflection[(i + 1) % bins];
        if (reflection[i] >= LEAST_REFLECTION && reflection[i] >= before && reflection[i] > after) {
          tops.add(i);
        }
      }
      tops.sort(Comparator.<Integer>comparingDouble(i -> reflection[i]).reversed());
      List<Peak> peaks = new ArrayList<>();
      for (int i : tops) {
        double time = (i - ahead) / (double) bins;
        double sidelobes = 0;
        for (Peak peak : peaks) {
          double apart = Math.abs(time - peak.distanceMm / aliasFreeMm);
          sidelobes += peak.reflection * envelope(window, Math.min(apart, 1 - apart));
        }
        if (peaks.size() < MOST_PEAKS && reflection[i] > ABOVE_SIDELOBES * sidelobes) {
          double top = top(time - 1.0 / bins, time + 1.0 / bins);
          peaks.add(new Peak(top * aliasFreeMm, magnitude(re, im, top)));
        }
      }
      peaks.sort(Comparator.comparingDouble(Peak::distanceMm));
      return List.copyOf(peaks);
    }

    /** What a lone reflection of 1 may show at a distance from its peak. */
    private double envelope(Window window, double apart) {
      return apart * re.length >= window.firstNull()
          ? window.sidelobe()
          : Math.max(window.sidelobe(), response(apart));
    }

    /** Time from the peak of a lone reflection to half its height. */
    private double halfWidth() {
      double near = 0;
      double far = 0.25 / re.length;
      while (response(far) > 0.5) {
        near = far;
        far *= 1.5;
      }
      for (int i = 0; i < 50; i++) {
        double middle = (near + far) / 2;
        if (response(middle) > 0.5) {
          near = middle;
        } else {
          far = middle;
        }
      }
      return far;
    }

    private double response(double time) {
      return magnitude(weights, new double[weights.length], time);
    }

    /** Golden-section search for the maximum between two times. */
    private double top(double from, double to) {
      double low = to - GOLDEN * (to - from);
      double high = from + GOLDEN * (to - from);
      double atLow = magnitude(re, im, low);
      double atHigh = magnitude(re, im, high);
      for (int i = 0; i < GOLDEN_STEPS; i++) {
        if (atLow > atHigh) {
          to = high;
          high = low;
          atHigh = atLow;
          low = to - GOLDEN * (to - from);
          atLow = magnitude(re, im, low);
        } else {
          from = low;
          low = high;
          atLow = atHigh;
          high = from + GOLDEN * (to - from);
          atHigh = magnitude(re, im, high);
        }
      }
      return (from + to) / 2;
    }

    /** |Σ x_k·exp(j2πk·time)|. */
    private static double magnitude(double[] re, double[] im, double time) {
      double sumRe = 0;
      double sumIm = 0;
      for (int k = 0; k < re.length; k++) {
        double radians = 2 * Math.PI * Math.IEEEremainder(k * time, 1);
        double cos = Math.cos(radians);
        double sin = Math.sin(radians);
        sumRe += re[k] * cos - im[k] * sin;
        sumIm += re[k] * sin + im[k] * cos;
      }
      return Math.hypot(sumRe, sumIm);
    }
  }
}
