package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The fast transform against the sum that defines it. */
class FftTest {

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 8, 50, 128})
  void isTheSumThatDefinesIt(int least) {
    Fft fft = Fft.ofAtLeast(least);
    assertThat(fft.size()).isBetween(least, Math.max(1, 2 * least - 1));
    Random random = new Random(1);
    double[] re = random.doubles(fft.size(), -1, 1).toArray();
    double[] im = random.doubles(fft.size(), -1, 1).toArray();
    double[] outRe = re.clone();
    double[] outIm = im.clone();

    fft.forward(outRe, outIm);

    for (int k = 0; k < fft.size(); k++) {
      Complex sum = Complex.ZERO;
      for (int n = 0; n < fft.size(); n++) {
        sum =
            sum.plus(
                Complex.of(re[n], im[n]).times(Complex.ofPolarDeg(1, -360.0 * k * n / fft.size())));
      }
      assertThat(outRe[k]).isCloseTo(sum.re(), within(1e-11));
      assertThat(outIm[k]).isCloseTo(sum.im(), within(1e-11));
    }

    fft.inverseUnscaled(outRe, outIm);
    for (int n = 0; n < fft.size(); n++) {
      assertThat(outRe[n] / fft.size()).isCloseTo(re[n], within(1e-13));
      assertThat(outIm[n] / fft.size()).isCloseTo(im[n], within(1e-13));
    }
  }

  @Test
  void sizesThatDontFitAreRefused() {
    assertThatThrownBy(() -> Fft.ofAtLeast(0)).isInstanceOf(InvalidQuantityException.class);
    assertThatThrownBy(() -> Fft.ofAtLeast(8).forward(new double[4], new double[8]))
        .isInstanceOf(IllegalArgumentException.class);
  }
}
