package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.sheet.Barcodes;
import org.equiphase.sheet.Code128;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Labels, printed, rendered as an office printer would and read by a scanner. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class LabelTest {

  private static final int DPI = 200;

  private final RunningService service;
  private TravelerShop shop;

  LabelTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void order() {
    shop = TravelerShop.trimming(service);
  }

  /** Labels are cut out of the page at their places, so that each is read alone. */
  @ParameterizedTest
  @EnumSource(
      value = LabelLayout.class,
      names = {"A4_38X21"},
      mode = EnumSource.Mode.EXCLUDE)
  void eachLabelCarriesItsOwnSerialAndNoOther(LabelLayout layout) throws IOException {
    List<String> serials = new ArrayList<>(shop.members());
    serials.add(shop.inPool());
    try (PDDocument pdf = pdf("layout=" + layout.code())) {
      int pages = layout.perPage() == 1 ? serials.size() : 1;
      assertThat(pdf.getNumberOfPages()).isEqualTo(pages);
      assertThat(pdf.getPage(0).getMediaBox().getWidth() / 72 * 25.4)
          .isCloseTo(layout.pageWidthMm(), within(0.1));
      assertThat(pdf.getPage(0).getMediaBox().getHeight() / 72 * 25.4)
          .isCloseTo(layout.pageHeightMm(), within(0.1));
      for (int i = 0; i < serials.size(); i++) {
        BufferedImage page =
            new PDFRenderer(pdf).renderImageWithDPI(pages == 1 ? 0 : i, DPI, ImageType.RGB);
        BufferedImage label = cut(page, layout, pages == 1 ? i : 0);
        assertThat(Barcodes.on(label)).containsExactly(serials.get(i));
        if (layout.isFlag()) {
          int middle = px(LabelLayout.FLAG.wrapMm() + layout.faceMm());
          BufferedImage front = label.getSubimage(0, 0, middle, label.getHeight());
          BufferedImage back =
              label.getSubimage(middle, 0, label.getWidth() - middle, label.getHeight());
          assertThat(Barcodes.on(front)).containsExactly(serials.get(i));
          assertThat(Barcodes.on(back)).containsExactly(serials.get(i));
        }
      }
      String text = new PDFTextStripper().getText(pdf);
      assertThat(text).contains(serials).contains(shop.order, "A / @4", "pool", "1000 mm");
      assertThat(text).doesNotContain("rev A");
    }
  }

  @Test
  void aStartedSheetIsGoneOnWithAndEachCableMayHaveTwo() throws IOException {
    try (PDDocument pdf = pdf("layout=letter-67x25&start=25&copies=2&revision=true")) {
      // 25 to 30 are six labels of the first sheet, the other four stand on the second.
      assertThat(pdf.getNumberOfPages()).isEqualTo(2);
      BufferedImage first = new PDFRenderer(pdf).renderImageWithDPI(0, DPI, ImageType.RGB);
      BufferedImage second = new PDFRenderer(pdf).renderImageWithDPI(1, DPI, ImageType.RGB);
      LabelLayout layout = LabelLayout.LETTER_67X25;
      assertThat(Barcodes.on(cut(first, layout, 23))).isEmpty();
      assertThat(Barcodes.on(cut(first, layout, 24))).containsExactly(shop.serial(1));
      assertThat(Barcodes.on(cut(first, layout, 25))).containsExactly(shop.serial(1));
      assertThat(Barcodes.on(cut(first, layout, 29))).containsExactly(shop.serial(3));
      assertThat(Barcodes.on(cut(second, layout, 0))).containsExactly(shop.serial(4));
      assertThat(Barcodes.on(cut(second, layout, 3))).containsExactly(shop.inPool());
      assertThat(Barcodes.on(cut(second, layout, 4))).isEmpty();
      assertThat(new PDFTextStripper().getText(pdf)).contains(shop.order + " rev A");
    }
  }

  /** The narrowest modules of all layouts, and the most labels on a sheet. */
  @Test
  void theSmallestLabelsAreReadToo() throws IOException {
    TravelerShop small = TravelerShop.withShortSerials(service);
    Set<String> expected = new TreeSet<>(small.members());
    expected.add(small.inPool());
    try (PDDocument pdf =
        pdf("/traveler/workorders/" + small.orderPath() + "/labels.pdf?layout=a4-38x21")) {
      BufferedImage page = new PDFRenderer(pdf).renderImageWithDPI(0, DPI, ImageType.RGB);
      Set<String> read = new TreeSet<>();
      for (int i = 0; i < 5; i++) {
        read.addAll(Barcodes.on(cut(page, LabelLayout.A4_38X21, i)));
      }
      assertThat(read).isEqualTo(expected);
    }
  }

  @Test
  void aSerialTooLongForTheLayoutIsNamed() {
    HttpResponse<String> refused = get("layout=a4-38x21");
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains(shop.serial(1), "too long", "36.5 mm", "wider layout");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "layout=none",
        "layout=62x29&start=2",
        "layout=a4-70x37&start=0",
        "layout=a4-70x37&start=25",
        "layout=a4-70x37&copies=0",
        "layout=a4-70x37&copies=11",
        "layout=a4-70x37&copies=two",
        "start=1"
      })
  void badRequestsAreRefused(String query) {
    HttpResponse<String> refused = get(query);
    assertThat(refused.statusCode()).isEqualTo(400);
    String field = query.replaceFirst(".*&", "").replaceFirst("=.*", "");
    assertThat(refused.body())
        .contains(field.equals("start") && !query.contains("&") ? "layout" : field);
  }

  @Test
  void labelsOfASetAndOfOneCable() throws IOException {
    try (PDDocument pdf = pdf("/traveler/sets/" + shop.setId + "/labels.pdf?layout=62x29")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(4);
    }
    try (PDDocument pdf =
        pdf("/traveler/assemblies/" + shop.serial(3) + "/labels.pdf?layout=62x29")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(1);
      assertThat(new PDFTextStripper().getText(pdf)).contains(shop.serial(3));
    }
  }

  /** Modules of 0.25 mm at least, and whole dots of a printer of 8 to the millimetre. */
  @ParameterizedTest
  @EnumSource(LabelLayout.class)
  void modulesAreWideEnough(LabelLayout layout) {
    for (String serial : List.of("1", "EQ-0001", "SW-A-001")) {
      Code128 code = Code128.of(serial);
      assertThat(layout.hasRoomFor(code)).isTrue();
      double moduleMm = layout.barcodeMm(code) / code.modules();
      assertThat(moduleMm).isBetween(0.25 - 1e-9, layout.perPage() == 1 ? 0.5 : 0.35 + 1e-9);
      assertThat(layout.barcodeMm(code)).isLessThanOrEqualTo(layout.roomMm());
      if (layout.perPage() == 1) {
        assertThat(moduleMm * 8).isCloseTo(Math.rint(moduleMm * 8), within(1e-9));
      }
    }
  }

  private HttpResponse<String> get(String query) {
    return service
        .api(Role.TECHNICIAN)
        .get("/api/v1/traveler/workorders/" + shop.orderPath() + "/labels.pdf?" + query);
  }

  private PDDocument pdf(String pathOrQuery) throws IOException {
    String path =
        pathOrQuery.startsWith("/")
            ? pathOrQuery
            : "/traveler/workorders/" + shop.orderPath() + "/labels.pdf?" + pathOrQuery;
    HttpResponse<byte[]> answer = service.pages(Role.PLANNER).download(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    return Loader.loadPDF(answer.body());
  }

  private static BufferedImage cut(BufferedImage page, LabelLayout layout, int place) {
    int x = px(layout.leftMm(place));
    int y = px(layout.topMm(place));
    return page.getSubimage(
        x,
        y,
        Math.min(px(layout.widthMm()), page.getWidth() - x),
        Math.min(px(layout.heightMm()), page.getHeight() - y));
  }

  private static int px(double mm) {
    return (int) Math.round(mm / 25.4 * DPI);
  }
}
