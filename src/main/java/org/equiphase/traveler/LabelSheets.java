package org.equiphase.traveler;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.equiphase.sheet.Code128;
import org.equiphase.sheet.PdfWriter;
import org.equiphase.sheet.Words;
import org.equiphase.web.Checks;
import org.equiphase.web.Digits;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/** Prints labels for cables: the serial number as barcode and text, and what it belongs to. */
@Service
class LabelSheets {

  private static final int MOST_COPIES = 10;

  /** So that one print stays small in memory; more are printed set by set. */
  private static final int MOST_LABELS = 2000;

  private static final double PT_MM = 25.4 / 72;
  private static final double LINE_HEIGHT = 1.2;

  /** How much larger the serial number is than the lines below it. */
  private static final double SERIAL_SIZE = 1.4;

  private final WorkOrders workOrders;
  private final PdfWriter pdf;

  LabelSheets(WorkOrders workOrders, PdfWriter pdf) {
    this.workOrders = workOrders;
    this.pdf = pdf;
  }

  /**
   * What is asked for.
   *
   * @param layout code of the layout
   * @param start place on the first sheet where labels begin, 1 being the first
   * @param copies labels for each cable, e.g. 2 for one at each end
   * @param revision whether the order's revision is printed
   */
  record Request(String layout, int start, int copies, boolean revision) {}

  /** Pages with labels. */
  record Print(LabelLayout layout, List<List<Label>> pages) {

    Print {
      pages = List.copyOf(pages);
    }
  }

  /**
   * A label in its place.
   *
   * @param marginMm left free above and below, so that a printer's edge takes nothing away
   */
  record Label(
      double leftMm,
      double topMm,
      double marginMm,
      Code128 barcode,
      double barcodeMm,
      double barcodeHeightMm,
      List<Line> lines) {

    Label {
      lines = List.copyOf(lines);
    }
  }

  /** A line of text in the size in which it fits. */
  record Line(String text, double sizePt, boolean strong) {}

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  byte[] order(String number, Request request, Locale locale) {
    return print(workOrders.orderByNumber(number), a -> true, request, locale);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  byte[] set(long setId, Request request, Locale locale) {
    MatchedSet set = workOrders.set(setId);
    Predicate<Assembly> members = a -> a.setId() != null && a.setId() == setId;
    return print(workOrders.order(set.workOrderId()), members, request, locale);
  }

  @Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
  byte[] assembly(String serial, Request request, Locale locale) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    return print(
        workOrders.order(assembly.workOrderId()), a -> a.id() == assembly.id(), request, locale);
  }

  private byte[] print(
      WorkOrder order, Predicate<Assembly> wanted, Request request, Locale locale) {
    LabelLayout layout = layout(request.layout());
    new Checks()
        .inRange("start", request.start(), 1, layout.perPage())
        .inRange("copies", request.copies(), 1, MOST_COPIES)
        .done();
    List<Assembly> assemblies = inOrder(order, wanted);
    if (assemblies.size() * request.copies() > MOST_LABELS) {
      throw InvalidInputException.of(
          "copies",
          Sentence.of("label.tooMany", assemblies.size() * request.copies(), MOST_LABELS));
    }
    refuseTooLong(layout, assemblies);
    Words words = new Words(locale);
    Map<Long, String> places = places(order, words);
    List<List<Label>> pages = new ArrayList<>();
    int at = request.start() - 1;
    for (Assembly assembly : assemblies) {
      for (int copy = 0; copy < request.copies(); copy++) {
        int place = at++ % layout.perPage();
        if (pages.isEmpty() || place == 0) {
          pages.add(new ArrayList<>());
        }
        pages
            .get(pages.size() - 1)
            .add(label(layout, place, order, assembly, places, request.revision(), words));
      }
    }
    return pdf.write(
        "traveler/labels",
        new Print(layout, pages),
        layout.pageWidthMm(),
        layout.pageHeightMm(),
        locale);
  }

  private static LabelLayout layout(String code) {
    return Arrays.stream(LabelLayout.values())
        .filter(layout -> layout.code().equals(code))
        .findFirst()
        .orElseThrow(
            () ->
                InvalidInputException.of(
                    "layout",
                    Sentence.of(
                        "label.noLayout",
                        code,
                        Arrays.stream(LabelLayout.values())
                            .map(LabelLayout::code)
                            .collect(Collectors.joining(", ")))));
  }

  /** Set by set in the order of positions, then the pool; without those that are gone. */
  private List<Assembly> inOrder(WorkOrder order, Predicate<Assembly> wanted) {
    List<Assembly> all = new ArrayList<>();
    for (MatchedSet set : workOrders.setsOf(order.id())) {
      all.addAll(workOrders.members(set.id()));
    }
    workOrders.assembliesOf(order.id()).stream().filter(a -> a.setId() == null).forEach(all::add);
    List<Assembly> printed = all.stream().filter(wanted).filter(a -> !a.isGone()).toList();
    if (printed.isEmpty()) {
      throw InvalidInputException.of("assemblies", Sentence.of("label.none"));
    }
    return printed;
  }

  private static void refuseTooLong(LabelLayout layout, List<Assembly> assemblies) {
    Checks checks = new Checks();
    assemblies.stream()
        .map(Assembly::serial)
        .filter(serial -> !layout.hasRoomFor(Code128.of(serial)))
        .limit(10)
        .forEach(
            serial ->
                checks.problem(
                    "layout",
                    Sentence.of(
                        "label.tooLong",
                        serial,
                        Digits.of(Code128.of(serial).leastMm(), 1),
                        Digits.of(layout.roomMm(), 1))));
    checks.done();
  }

  private Map<Long, String> places(WorkOrder order, Words words) {
    Map<Long, String> labels = new HashMap<>();
    for (MatchedSet set : workOrders.setsOf(order.id())) {
      for (SetPosition position : set.positions()) {
        labels.put(position.id(), words.text("label.setAndPosition", set.name(), position.label()));
      }
    }
    return labels;
  }

  private static Label label(
      LabelLayout layout,
      int place,
      WorkOrder order,
      Assembly assembly,
      Map<Long, String> places,
      boolean revision,
      Words words) {
    Code128 barcode = Code128.of(assembly.serial());
    Long positionId = assembly.positionId();
    String where =
        positionId == null ? words.text("traveler.pool") : places.getOrDefault(positionId, "");
    String length =
        words.text("label.nominal", Format.PLAIN.plain(order.specification().nominalLengthMm()));
    String ofOrder =
        revision
            ? words.text("traveler.orderRev", order.number(), order.revision())
            : order.number();
    double barcodeHeightMm = Math.max(7, layout.heightMm() * 0.4);
    double roomMm = layout.heightMm() - 1.6 - barcodeHeightMm;
    double lineOfPtMm = PT_MM * LINE_HEIGHT * (2 + SERIAL_SIZE);
    double linePt = Math.min(Math.max(9, layout.heightMm() * 0.27), roomMm / lineOfPtMm);
    return new Label(
        layout.leftMm(place),
        layout.topMm(place),
        (layout.heightMm() - barcodeHeightMm - linePt * lineOfPtMm) / 2,
        barcode,
        layout.barcodeMm(barcode),
        barcodeHeightMm,
        List.of(
            line(assembly.serial(), linePt * SERIAL_SIZE, layout, true),
            line(ofOrder, linePt, layout, false),
            line(where + " · " + length, linePt, layout, false)));
  }

  /** A line in letters that are small enough for it, but never too small to read. */
  private static Line line(String text, double sizePt, LabelLayout layout, boolean strong) {
    // The letters are 0.55 of their size wide on average, bold ones 0.62.
    double letterMm = PT_MM * (strong ? 0.62 : 0.55);
    double fitsPt = layout.roomMm() / (text.length() * letterMm);
    double pt = Math.max(4.5, Math.min(sizePt, fitsPt));
    int most = (int) Math.floor(layout.roomMm() / (pt * letterMm) + 1e-9);
    String shown = text.length() <= most ? text : text.substring(0, most - 1) + "…";
    return new Line(shown, pt, strong);
  }
}
