package org.equiphase.sheet;

import com.google.zxing.oned.Code128Writer;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import javax.imageio.ImageIO;

/**
 * A Code 128 symbol (ISO/IEC 15417) with its quiet zones of ten modules.
 *
 * @param modules its width, quiet zones included
 */
public record Code128(String text, int modules, List<Bar> bars) {

  /** Narrower modules are lost by an office printer or a hand scanner. */
  public static final double LEAST_MODULE_MM = 0.25;

  public static final double USUAL_MODULE_MM = 0.35;
  private static final int QUIET_MODULES = 10;

  public Code128 {
    bars = List.copyOf(bars);
  }

  /** A black bar: its left edge and its width, in modules. */
  public record Bar(int x, int width) {}

  public static Code128 of(String text) {
    boolean[] black = new Code128Writer().encode(text);
    List<Bar> bars = new ArrayList<>();
    int start = -1;
    for (int i = 0; i <= black.length; i++) {
      boolean on = i < black.length && black[i];
      if (on && start < 0) {
        start = i;
      } else if (!on && start >= 0) {
        bars.add(new Bar(QUIET_MODULES + start, i - start));
        start = -1;
      }
    }
    return new Code128(text, black.length + 2 * QUIET_MODULES, bars);
  }

  /** Printed width in mm at the head of a sheet. */
  public double wideMm() {
    return widthMm(100);
  }

  /** Printed width in mm in a row of a table; a long text is wider than the room there. */
  public double compactMm() {
    return widthMm(52);
  }

  /** Width in mm below which no printer and no scanner can be trusted with it. */
  public double leastMm() {
    return modules * LEAST_MODULE_MM;
  }

  /** The usual width where there is room, else less, but never with modules too narrow to read. */
  private double widthMm(double roomMm) {
    double moduleMm = Math.min(USUAL_MODULE_MM, roomMm / modules);
    return modules * Math.max(LEAST_MODULE_MM, moduleMm);
  }

  /** A black and white picture with sharp edges between whole pixels. */
  public byte[] png(int pixelsPerModule, int heightPixels) {
    BufferedImage image =
        new BufferedImage(modules * pixelsPerModule, heightPixels, BufferedImage.TYPE_BYTE_BINARY);
    var graphics = image.createGraphics();
    graphics.setColor(java.awt.Color.WHITE);
    graphics.fillRect(0, 0, image.getWidth(), heightPixels);
    graphics.setColor(java.awt.Color.BLACK);
    for (Bar bar : bars) {
      graphics.fillRect(bar.x() * pixelsPerModule, 0, bar.width() * pixelsPerModule, heightPixels);
    }
    graphics.dispose();
    try (ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      ImageIO.write(image, "png", out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
