package org.equiphase.sheet;

import com.openhtmltopdf.extend.FSObjectDrawer;
import com.openhtmltopdf.extend.FSObjectDrawerFactory;
import com.openhtmltopdf.extend.OutputDevice;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.render.RenderingContext;
import com.openhtmltopdf.util.XRLog;
import java.awt.Color;
import java.awt.Shape;
import java.awt.geom.Rectangle2D;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.logging.Level;
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.equiphase.web.Format;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templatemode.TemplateMode;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;
import org.xml.sax.SAXException;

/** Prints sheets as PDF. Nothing is loaded from outside of the jar. */
@Component
public class PdfWriter {

  private static final String FONT_FAMILY = "Sheet";
  private static final String FONT_PATH = "/net/sf/jasperreports/fonts/dejavu/DejaVuSansCondensed";

  /** XML can't carry other characters, not even escaped. */
  private static final String NO_XML =
      "[^\\t\\n\\r\\x20-\\uD7FF\\uE000-\\uFFFD\\x{10000}-\\x{10FFFF}]";

  private final SpringTemplateEngine templates = new SpringTemplateEngine();
  private final Format format = Format.PLAIN;

  static {
    // Otherwise it reports on each step of each print.
    XRLog.listRegisteredLoggers().forEach(logger -> XRLog.setLevel(logger, Level.WARNING));
  }

  PdfWriter(Texts texts) {
    ClassLoaderTemplateResolver resolver = new ClassLoaderTemplateResolver();
    resolver.setPrefix("templates/");
    resolver.setSuffix(".xml");
    resolver.setTemplateMode(TemplateMode.XML);
    templates.setTemplateResolver(resolver);
    templates.setTemplateEngineMessageSource(texts);
  }

  /**
   * A sheet as PDF.
   *
   * @param template its path under {@code templates/} without ending, like {@code traveler/sheets};
   *     an XML page that takes {@code ${pageStyle}} and the fragment {@code sheet/parts :: style}
   * @param data what the template finds as {@code data}, beside {@code format} and {@code words}
   */
  public byte[] write(String template, Object data, Paper paper, Locale locale) {
    return write(template, data, pageStyle(paper, new Words(locale)), locale);
  }

  /**
   * The same on pages of another size, without margins and page numbers, as labels want it.
   *
   * @param widthMm width of a page
   * @param heightMm height of a page
   */
  public byte[] write(
      String template, Object data, double widthMm, double heightMm, Locale locale) {
    String size = "@page { size: %smm %smm; margin: 0; }";
    return write(template, data, size.formatted(widthMm, heightMm), locale);
  }

  private byte[] write(String template, Object data, String pageStyle, Locale locale) {
    Words words = new Words(locale);
    Context model = new Context(locale);
    model.setVariable("words", words);
    model.setVariable("pageStyle", pageStyle);
    model.setVariable("data", data);
    model.setVariable("format", format);
    String xml = templates.process(template, model).replaceAll(NO_XML, "\uFFFD");
    try (ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      new PdfRendererBuilder()
          .withW3cDocument(parse(xml), null)
          .useFont(() -> font(""), FONT_FAMILY, 400, FontStyle.NORMAL, true)
          .useFont(() -> font("-Bold"), FONT_FAMILY, 700, FontStyle.NORMAL, true)
          .useExternalResourceAccessControl(
              (uri, type) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI)
          .useExternalResourceAccessControl(
              (uri, type) -> false, ExternalResourceControlPriority.RUN_AFTER_RESOLVING_URI)
          .useObjectDrawerFactory(new Barcodes())
          .withProducer("Equiphase")
          .toStream(out)
          .run();
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What depends on paper and language: size, and the page number between its words. */
  private static String pageStyle(Paper paper, Words words) {
    return """
        @page { size: %s portrait; @bottom-right { content: "%s"; width: 18%%; text-align: right; \
        vertical-align: top; font: 7.5pt Sheet; padding-top: 1.5mm; } }"""
        .formatted(
            paper.name().toLowerCase(Locale.ROOT),
            words.text("sheet.page", "\" counter(page) \"", "\" counter(pages) \""));
  }

  private static InputStream font(String weight) {
    return Objects.requireNonNull(PdfWriter.class.getResourceAsStream(FONT_PATH + weight + ".ttf"));
  }

  private static Document parse(String xml) throws IOException {
    try {
      DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
      factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
      factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
      return factory.newDocumentBuilder().parse(new InputSource(new StringReader(xml)));
    } catch (ParserConfigurationException | SAXException e) {
      throw new IllegalStateException("the sheet template is no well-formed XML", e);
    }
  }

  /** Draws an object of type code128 as sharp bars, its data being the text. */
  private static final class Barcodes implements FSObjectDrawerFactory, FSObjectDrawer {

    @Override
    public @Nullable FSObjectDrawer createDrawer(Element element) {
      return isReplacedObject(element) ? this : null;
    }

    @Override
    public boolean isReplacedObject(Element element) {
      return element.getTagName().equals("object")
          && element.getAttribute("type").equals("code128");
    }

    @Override
    public @Nullable Map<Shape, String> drawObject(
        Element element,
        double x,
        double y,
        double width,
        double height,
        OutputDevice outputDevice,
        RenderingContext context,
        int dotsPerPixel) {
      Code128 code = Code128.of(element.getAttribute("data"));
      double widthPx = width / dotsPerPixel;
      double heightPx = height / dotsPerPixel;
      double modulePx = widthPx / code.modules();
      outputDevice.drawWithGraphics(
          (float) x,
          (float) y,
          (float) widthPx,
          (float) heightPx,
          graphics -> {
            graphics.setColor(Color.BLACK);
            for (Code128.Bar bar : code.bars()) {
              graphics.fill(
                  new Rectangle2D.Double(bar.x() * modulePx, 0, bar.width() * modulePx, heightPx));
            }
          });
      return null;
    }
  }
}
