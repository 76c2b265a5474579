package org.equiphase.sheet;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.BinaryBitmap;
import com.google.zxing.DecodeHintType;
import com.google.zxing.NotFoundException;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.ReaderException;
import com.google.zxing.Result;
import com.google.zxing.common.GlobalHistogramBinarizer;
import com.google.zxing.oned.Code128Reader;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Reads barcodes as a scanner does: from pixels. */
public final class Barcodes {

  private static final int STRIP_PIXELS = 12;
  private static final int FINER = 3;

  private Barcodes() {}

  /** Every barcode of a page, found strip by strip from its top to its bottom. */
  public static Set<String> on(BufferedImage print) {
    BufferedImage page = smoothed(print);
    Set<String> texts = new TreeSet<>();
    for (int y = 0; y + STRIP_PIXELS <= page.getHeight(); y += STRIP_PIXELS) {
      in(page.getSubimage(0, y, page.getWidth(), STRIP_PIXELS)).ifPresent(texts::add);
    }
    return texts;
  }

  /** A scanner sees where an edge lies within a pixel by its grey; the reader needs it told. */
  private static BufferedImage smoothed(BufferedImage print) {
    BufferedImage wider =
        new BufferedImage(FINER * print.getWidth(), print.getHeight(), BufferedImage.TYPE_INT_RGB);
    Graphics2D graphics = wider.createGraphics();
    graphics.setRenderingHint(
        RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BICUBIC);
    graphics.drawImage(print, 0, 0, wider.getWidth(), wider.getHeight(), null);
    graphics.dispose();
    return wider;
  }

  /** The barcode of a picture. */
  public static Optional<String> in(BufferedImage image) {
    int width = image.getWidth();
    int height = image.getHeight();
    int[] pixels = image.getRGB(0, 0, width, height, null, 0, width);
    BinaryBitmap bitmap =
        new BinaryBitmap(
            new GlobalHistogramBinarizer(new RGBLuminanceSource(width, height, pixels)));
    try {
      Result result =
          new Code128Reader().decode(bitmap, Map.of(DecodeHintType.TRY_HARDER, Boolean.TRUE));
      return result.getBarcodeFormat() == BarcodeFormat.CODE_128
          ? Optional.of(result.getText())
          : Optional.empty();
    } catch (NotFoundException e) {
      return Optional.empty();
    } catch (ReaderException e) {
      throw new AssertionError("a damaged barcode", e);
    }
  }
}
