package org.equiphase.sheet;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class Code128Test {

  private static final String FORTY = "W-1043/ABCDEFGHIJKLMNOPQRSTUVWXYZ-abcdef";

  @ParameterizedTest
  @ValueSource(strings = {"1", "123456", "WX-001", "a~!{}\"'<>&;%", FORTY})
  void pictureReadsAsItsText(String text) throws IOException {
    BufferedImage image = ImageIO.read(new ByteArrayInputStream(Code128.of(text).png(2, 20)));
    assertThat(Barcodes.in(image)).contains(text);
  }

  /** A quiet zone of 10 X on each side: ISO/IEC 15417, from memory. */
  @ParameterizedTest
  @ValueSource(strings = {"1", "WX-001", FORTY})
  void quietZonesAreTenModulesWide(String text) throws IOException {
    BufferedImage image = ImageIO.read(new ByteArrayInputStream(Code128.of(text).png(1, 1)));
    int width = image.getWidth();
    int left = 0;
    while (!dark(image, left)) {
      left++;
    }
    int right = width - 1;
    while (!dark(image, right)) {
      right--;
    }
    assertThat(left).isEqualTo(10);
    assertThat(width - 1 - right).isEqualTo(10);
  }

  /** Start B (211214), the letter "A" (111323), check (symbol 34: 131123), stop (2331112). */
  @Test
  void symbolOfOneLetter() {
    // ISO/IEC 15417, table of symbol characters, from memory: widths of bars and spaces in turn.
    // The check symbol is (104 + 1·33) mod 103 = 34.
    String widths = "211214" + "111323" + "131123" + "2331112";
    StringBuilder drawn = new StringBuilder();
    int end = 10;
    for (Code128.Bar bar : Code128.of("A").bars()) {
      if (bar.x() > end) {
        drawn.append(bar.x() - end);
      }
      drawn.append(bar.width());
      end = bar.x() + bar.width();
    }
    assertThat(drawn).hasToString(widths);
  }

  @ParameterizedTest
  @ValueSource(strings = {"1", "WX-001", "SERIAL-0123-4567-89", FORTY})
  void modulesAreWideEnoughToRead(String text) {
    Code128 code = Code128.of(text);
    assertThat(code.wideMm() / code.modules()).isBetween(0.25, 0.35);
    assertThat(code.compactMm() / code.modules()).isBetween(0.25, 0.35);
  }

  private static boolean dark(BufferedImage image, int x) {
    return (image.getRGB(x, 0) & 0xff) < 128;
  }
}
