package org.equiphase.release;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.release.CertificateSheet.Caution;
import org.equiphase.release.CertifiedSet.Concession;
import org.equiphase.release.CertifiedSet.Equipment;
import org.equiphase.release.CertifiedSet.Limit;
import org.equiphase.release.CertifiedSet.Member;
import org.equiphase.release.CertifiedSet.Spot;
import org.equiphase.release.CertifiedSet.Spread;
import org.equiphase.release.CertifiedSet.Subject;
import org.equiphase.release.SetRelease.Withdrawal;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Book.Page;
import org.equiphase.sheet.Column;
import org.equiphase.sheet.Facts;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.Words;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A certificate as workbook: numbers in full, with their unit in the heading. */
final class CertificateBook {

  private final CertificateSheet sheet;
  private final CertifiedSet set;
  private final Book book;
  private final Words words;
  private final String footer;

  private CertificateBook(CertificateSheet sheet, Locale locale) {
    this.sheet = sheet;
    this.set = sheet.set();
    this.words = new Words(locale);
    this.book = new Book(words);
    this.footer = words.text("release.footer", sheet.release().number(), sheet.release().sha256());
  }

  static byte[] write(CertificateSheet sheet, Locale locale) {
    CertificateBook writer = new CertificateBook(sheet, locale);
    writer.summary();
    writer.limits();
    writer.phases();
    writer.members();
    writer.equipment();
    writer.concessions();
    writer.cautions();
    return writer.book.bytes();
  }

  private void summary() {
    XSSFSheet page = book.sheet(words.text("release.title"));
    book.widths(page, 60, 120);
    Facts facts = new Facts(book, page, 0, 1);
    Subject subject = set.subject();
    facts.title("release.title");
    book.barcode(page, height(facts.row(), 13).getRowNum(), 0, sheet.barcode(), 11);
    standing(facts);
    facts.add("release.fact.number", sheet.release().number());
    facts.add("release.fact.order", subject.orderNumber());
    facts.add("release.fact.revision", subject.orderRevision());
    facts.add("release.fact.title", subject.orderTitle());
    facts.add("release.fact.set", subject.setName());
    facts.add("release.fact.cableType", subject.cableType());
    facts.add("release.fact.connector", subject.connector());
    facts.add("release.fact.torqueNm", subject.connectorTorqueNm());
    facts.add("release.fact.method", words.say(sheet.method()));
    facts.add("release.fact.basis", words.say(sheet.basis()));
    facts.add("release.fact.master", subject.masterSerial());
    facts.add("release.fact.turns", words.say(sheet.turns()));
    facts.add("release.fact.referenceC", set.requirement().referenceTemperatureC());
    facts.add("release.fact.vswrLimit", set.requirement().vswrLimit());
    facts.add("release.fact.rule", words.say(sheet.rule()));
    facts.title("release.signature");
    facts.add("release.fact.signer", sheet.certificate().signature().displayName());
    facts.add("release.fact.username", sheet.certificate().signature().username());
    facts.add("release.fact.signedAt", words.utc(sheet.certificate().signature().at()));
    facts.add("release.fact.meaning", words.text("release.meaning"));
    facts.add("release.fact.remark", sheet.certificate().signature().remark());
    facts.add("release.fact.sha256", sheet.release().sha256());
    facts.add("release.fact.auditEntry", sheet.certificate().auditHead().entry());
    facts.add("release.fact.auditHash", sheet.certificate().auditHead().hash());
    facts.add("release.fact.check", howToCheck());
    book.print(page, Page.PORTRAIT, facts.next() - 1, 1, footer);
  }

  private String howToCheck() {
    return words.text(
        "release.howToCheck",
        sheet.release().number(),
        sheet.release().id() + "",
        sheet.release().id() + "");
  }

  private static XSSFRow height(XSSFRow row, double heightMm) {
    Book.height(row, heightMm);
    return row;
  }

  private void standing(Facts facts) {
    Withdrawal withdrawal = sheet.release().withdrawal();
    if (withdrawal != null) {
      facts.add(
          "release.withdrawn",
          words.text(
              "release.withdrawnBy",
              words.utc(withdrawal.at()),
              withdrawal.by(),
              withdrawal.reason()));
      facts.add("release.supersededBy", sheet.supersededBy());
    }
  }

  /** The limits at one frequency, with the spread of the set beside them. */
  private record LimitAt(Limit limit, Spread spread) {}

  private void limits() {
    List<Limit> limits = set.requirement().limits();
    table(
        "release.limits",
        IntStream.range(0, limits.size())
            .mapToObj(k -> new LimitAt(limits.get(k), set.spreads().get(k)))
            .toList(),
        number("frequencyGhz", Look.QUANTITY, l -> l.limit().frequencyHz() / 1e9),
        number("toleranceDeg", Look.DEGREES, l -> l.limit().toleranceDeg()),
        number("acceptanceDeg", Look.DEGREES, l -> l.limit().acceptanceDeg()),
        number("spreadDeg", Look.DEGREES, l -> l.spread().errorDeg()),
        number("lossLimitDb", Look.QUANTITY, l -> l.limit().insertionLossLimitDb()),
        number("lossSpreadLimitDb", Look.QUANTITY, l -> l.limit().insertionLossSpreadDb()),
        number("lossSpreadDb", Look.THOUSANDTHS, l -> l.spread().insertionLossDb()));
  }

  /** One member at one frequency. */
  private record MemberAt(Member member, Spot spot) {}

  private void phases() {
    List<MemberAt> rows =
        set.members().stream()
            .flatMap(m -> m.spots().stream().map(s -> new MemberAt(m, s)))
            .toList();
    table(
        "release.phases",
        rows,
        text("position", 18, r -> r.member().position()),
        text("serial", 34, r -> r.member().serial()),
        number("frequencyGhz", Look.QUANTITY, r -> r.spot().frequencyHz() / 1e9),
        number("phaseDeg", Look.DEGREES, r -> r.spot().phaseDeg()),
        number("phaseUDeg", Look.DEGREES, r -> r.spot().phaseExpandedDeg()),
        number("targetDeg", Look.DEGREES, r -> r.spot().targetDeg()),
        number("errorDeg", Look.SIGNED_DEGREES, r -> r.spot().errorDeg()),
        number("errorUDeg", Look.DEGREES, r -> r.spot().errorExpandedDeg()),
        number("acceptanceDeg", Look.DEGREES, r -> r.spot().acceptanceDeg()),
        number("toleranceDeg", Look.DEGREES, r -> r.spot().toleranceDeg()),
        number("lossDb", Look.DEGREES, r -> r.spot().insertionLossDb()),
        number("vswr", Look.THOUSANDTHS, r -> r.spot().vswr()));
  }

  private void members() {
    table(
        "release.members",
        set.members(),
        text("position", 18, Member::position),
        text("serial", 34, Member::serial),
        text("lot", 24, Member::cableLot),
        text("standing", 40, m -> sheet.standing(m)),
        number("probability", Look.THOUSANDTHS, Member::probabilityIn),
        number("offsetDeg", Look.DEGREES, Member::offsetPhaseDeg),
        number("offsetPs", Look.QUANTITY, Member::offsetDelayPs),
        number("trimmedMm", Look.MILLIMETRES, Member::trimmedMm),
        text("stretcher", 34, Member::stretcher),
        number("settingMm", Look.MILLIMETRES, Member::stretcherSettingMm),
        number("reading", Look.INTEGER, m -> m.reading().readingId()),
        text("takenAt", 36, m -> words.utc(m.reading().at())),
        text("takenBy", 28, m -> m.reading().by()),
        text("bench", 34, m -> m.reading().bench()),
        number("temperatureC", Look.QUANTITY, m -> m.reading().temperatureC()),
        text(
            "drift",
            30,
            m ->
                Sentence.of(
                    m.reading().checkedAfter()
                        ? "release.checkedAfter"
                        : "release.checkedBefore")));
  }

  private void equipment() {
    table(
        "release.equipment",
        set.equipment(),
        text("bench", 34, Equipment::bench),
        text("instrument", 50, Equipment::instrument),
        text("instrumentSerial", 34, Equipment::instrumentSerialNumber),
        text("instrumentDue", 28, e -> e.instrumentCalibrationDue().toString()),
        text("benchDue", 28, e -> e.benchCalibrationDue().toString()),
        text("between", 70, e -> sheet.between(e)));
  }

  private void concessions() {
    if (!set.concessions().isEmpty()) {
      table(
          "release.concessions",
          set.concessions(),
          text("disposition", 26, Concession::number),
          text("serial", 34, Concession::serial),
          text("text", 90, Concession::text),
          text("signedBy", 70, c -> signers(c)));
    }
  }

  private String signers(Concession concession) {
    return String.join(
        "; ",
        concession.signedBy().stream()
            .map(s -> s.displayName() + ", " + words.utc(s.at()))
            .toList());
  }

  private void cautions() {
    table(
        "release.cautions",
        sheet.cautions(),
        text("caution", 50, Caution::title),
        text("whatToDo", 120, Caution::text));
  }

  @SafeVarargs
  private <R> void table(String nameKey, List<R> rows, Column<R>... columns) {
    new Table<>(List.of(columns), rows).addTo(book, words.text(nameKey), footer);
  }

  private static <R> Column<R> text(
      String key, double widthMm, Function<R, @Nullable Object> value) {
    return Column.text(key, Sentence.of("release.column." + key), widthMm, value);
  }

  private static <R> Column<R> number(
      String key, Look look, Function<R, ? extends @Nullable Number> value) {
    return Column.number(key, Sentence.of("release.column." + key), 22, look, value);
  }
}
