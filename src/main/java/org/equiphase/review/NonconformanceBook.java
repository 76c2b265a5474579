package org.equiphase.review;

import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Function;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.adjustment.Instruction;
import org.equiphase.measurement.Reading;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.NonconformanceReport.CorrectedSpot;
import org.equiphase.review.NonconformanceReport.Finding;
import org.equiphase.review.NonconformanceReport.Outcome;
import org.equiphase.review.NonconformanceReport.ReadingLine;
import org.equiphase.review.NonconformanceReport.WorkLine;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Book.Page;
import org.equiphase.sheet.Column;
import org.equiphase.sheet.Facts;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.Words;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A nonconformance report as workbook: numbers in full, with their unit in the heading. */
final class NonconformanceBook {

  private final NonconformanceReport report;
  private final Disposition disposition;
  private final Words words;
  private final Book book;
  private final String footer;

  private NonconformanceBook(NonconformanceReport report, Locale locale) {
    this.report = report;
    this.disposition = report.disposition();
    this.words = new Words(locale);
    this.book = new Book(words);
    this.footer =
        words.text("report.footer", disposition.id() + "", disposition.serial())
            + "\n"
            + words.text("report.footerHash", disposition.sha256());
  }

  static byte[] write(NonconformanceReport report, Locale locale) {
    NonconformanceBook writer = new NonconformanceBook(report, locale);
    writer.summary();
    writer.findings();
    writer.readings();
    writer.work();
    writer.signatures();
    return writer.book.bytes();
  }

  private void summary() {
    XSSFSheet sheet = book.sheet(words.text("report.title"));
    book.widths(sheet, 60, 120);
    Facts facts = new Facts(book, sheet, 0, 1);
    DecisionNumbers numbers = report.numbers();
    facts.title("report.title");
    facts.add("report.number", disposition.id());
    facts.add("report.state", words.say(disposition.state().words()));
    facts.add("report.supersedes", disposition.supersedesId());
    facts.add("report.supersededBy", disposition.supersededById());
    facts.title("report.what");
    facts.add("report.serial", disposition.serial());
    facts.add("report.order", report.order().number());
    facts.add("report.revision", numbers.revision());
    facts.add("report.set", numbers.setName());
    facts.add("report.position", numbers.position());
    facts.add("report.cableType", report.cableType());
    facts.add("report.reason", words.say(report.reason()));
    facts.add("report.planSaid", numbers.reason());
    facts.add("report.reading", numbers.readingId());
    facts.add("report.temperatureC", numbers.temperatureC());
    facts.add("report.probability", numbers.probabilityIn());
    facts.add("report.trimmedMm", numbers.trimmedMm());
    facts.add("report.settingMm", numbers.stretcherSettingMm());
    facts.title("report.decision");
    facts.add("report.decision", words.say(disposition.kind().words()));
    facts.add("report.text", disposition.text());
    terms(facts);
    facts.add("report.caution", words.say(report.caution()));
    facts.add("report.sha256", disposition.sha256());
    book.print(sheet, Page.PORTRAIT, facts.next() - 1, 1, footer);
  }

  private void terms(Facts facts) {
    Disposition.Terms terms = disposition.terms();
    facts.add("report.extraTrimMm", terms.extraTrimMm());
    facts.add("report.tooShortLimit", terms.tooShortLimit());
    facts.add("report.stretcher", report.stretcher());
    facts.add("report.stretcherStartMm", terms.stretcherStartMm());
    facts.add("report.otherSerial", terms.otherSerial());
    facts.add("report.newSerial", terms.newSerial());
  }

  private void findings() {
    table(
        "report.findings",
        report.findings(),
        number("frequencyGhz", Look.QUANTITY, f -> f.observed().frequencyHz() / 1e9),
        number("errorDeg", Look.SIGNED_DEGREES, f -> f.observed().errorDeg()),
        number("expandedDeg", Look.DEGREES, Finding::expandedDeg),
        number("acceptanceDeg", Look.DEGREES, f -> f.observed().acceptanceDeg()),
        number("toleranceDeg", Look.DEGREES, f -> f.observed().toleranceDeg()),
        number("targetDeg", Look.DEGREES, f -> f.observed().targetPhaseDeg()),
        number("lossDb", Look.DEGREES, f -> f.observed().insertionLossDb()),
        number("lossLimitDb", Look.QUANTITY, f -> f.asked().insertionLossLimitDb()),
        number("vswr", Look.THOUSANDTHS, f -> f.observed().vswr()),
        number("vswrLimit", Look.QUANTITY, Finding::vswrLimit),
        text("finding", 50, Finding::words));
  }

  private record ReadingAt(Reading reading, String bench, CorrectedSpot spot) {}

  private void readings() {
    List<ReadingAt> rows =
        report.readings().stream()
            .flatMap(
                (ReadingLine l) ->
                    l.spots().stream().map(s -> new ReadingAt(l.reading(), l.bench(), s)))
            .toList();
    table(
        "report.readings",
        rows,
        number("reading", Look.INTEGER, r -> r.reading().id()),
        text("takenAt", 36, r -> words.utc(r.reading().takenAt())),
        text("by", 26, r -> r.reading().recordedBy()),
        text("bench", 34, ReadingAt::bench),
        number("temperatureC", Look.QUANTITY, r -> r.reading().temperatureC()),
        number("frequencyGhz", Look.QUANTITY, r -> r.spot().spot().frequencyHz() / 1e9),
        number("shownDeg", Look.DEGREES, r -> r.spot().spot().measuredPhaseDeg()),
        number("planeDeg", Look.DEGREES, r -> r.spot().spot().planeCorrectionDeg()),
        number("temperatureDeg", Look.DEGREES, r -> r.spot().spot().temperatureCorrectionDeg()),
        number("driftDeg", Look.DEGREES, r -> r.spot().driftDeg()),
        number("phaseDeg", Look.DEGREES, r -> r.spot().phaseDeg()),
        number("lossDb", Look.DEGREES, r -> r.spot().spot().insertionLossDb()),
        number("vswr", Look.THOUSANDTHS, r -> r.spot().spot().vswr()),
        text("voided", 50, r -> voided(r.reading())));
  }

  private static @Nullable String voided(Reading reading) {
    Reading.Voided voided = reading.voided();
    return voided == null ? null : voided.reason();
  }

  private record WorkAt(Instruction instruction, Outcome outcome) {
    Instruction.Done done() {
      return Objects.requireNonNull(instruction.done());
    }
  }

  private void work() {
    List<WorkAt> rows =
        report.work().stream()
            .flatMap((WorkLine l) -> l.outcomes().stream().map(o -> new WorkAt(l.instruction(), o)))
            .toList();
    table(
        "report.work",
        rows,
        number("instruction", Look.INTEGER, w -> w.instruction().id()),
        number("reading", Look.INTEGER, w -> w.instruction().readingId()),
        text("doneAt", 36, w -> words.utc(w.done().at())),
        text("by", 26, w -> w.done().by()),
        number("askedMm", Look.MILLIMETRES, w -> w.instruction().trimMm()),
        number("cutMm", Look.MILLIMETRES, w -> w.done().trimMm()),
        number("setMm", Look.MILLIMETRES, w -> w.done().settingMm()),
        number("frequencyGhz", Look.QUANTITY, w -> w.outcome().prediction().frequencyHz() / 1e9),
        number("beforeDeg", Look.SIGNED_DEGREES, w -> w.outcome().prediction().errorDeg()),
        number(
            "predictedDeg", Look.SIGNED_DEGREES, w -> w.outcome().prediction().predictedErrorDeg()),
        number("foundDeg", Look.SIGNED_DEGREES, w -> w.outcome().foundDeg()),
        text("note", 50, w -> w.done().note()));
  }

  private void signatures() {
    table(
        "report.signatures",
        disposition.signatures(),
        text("person", 50, s -> s.displayName() + " (" + s.person() + ")"),
        text("meaning", 34, s -> report.meaning(s)),
        text("signedAt", 36, (Signature s) -> words.utc(s.at())),
        text("remark", 90, Signature::text));
  }

  @SafeVarargs
  private <R> void table(String nameKey, List<R> rows, Column<R>... columns) {
    new Table<>(List.of(columns), rows).addTo(book, words.text(nameKey), footer);
  }

  private static <R> Column<R> text(
      String key, double widthMm, Function<R, @Nullable Object> value) {
    return Column.text(key, Sentence.of("report.column." + key), widthMm, value);
  }

  private static <R> Column<R> number(
      String key, Look look, Function<R, ? extends @Nullable Number> value) {
    return Column.number(key, Sentence.of("report.column." + key), 22, look, value);
  }
}
