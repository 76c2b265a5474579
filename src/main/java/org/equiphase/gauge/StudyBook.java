package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Column;
import org.equiphase.sheet.Table;
import org.equiphase.sheet.Words;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** A study as data: its values, and what they say. */
final class StudyBook {

  private StudyBook() {}

  /**
   * A line of the figures; what a line has none of is null.
   *
   * @param count of kinds of parts told apart
   */
  record Line(
      @Nullable Sentence method,
      @Nullable Sentence figure,
      Analysis.@Nullable Share share,
      @Nullable Integer count,
      @Nullable Sentence verdict) {}

  static Table<StudyValue> values(Study study, List<StudyValue> values) {
    return new Table<>(
        List.of(
            Column.<StudyValue>text(
                "part", Sentence.of("gauge.part"), 36, v -> study.parts().get(v.part())),
            Column.<StudyValue>text(
                "appraiser",
                Sentence.of("gauge.appraiser"),
                36,
                v -> study.appraisers().get(v.appraiser())),
            Column.<StudyValue>number(
                "trial", Sentence.of("gauge.trial"), 20, Look.INTEGER, v -> v.trial() + 1),
            Column.<StudyValue>number(
                "phase_deg", Sentence.of("gauge.phaseDeg"), 24, StudyValue::phaseDeg),
            Column.<StudyValue>text(
                "taken_from",
                Sentence.of("gauge.takenFrom"),
                32,
                v -> Sentence.of(v.captured() ? "gauge.instrument" : "gauge.typed")),
            Column.<StudyValue>time(
                "taken_at", Sentence.of("gauge.takenAt"), 36, StudyValue::takenAt),
            Column.<StudyValue>text(
                "struck_out_for", Sentence.of("gauge.struckFor"), 60, StudyValue::strikeReason)),
        values);
  }

  static Table<Line> figures(Study study, List<StudyValue> values) {
    return new Table<>(
        List.of(
            Column.<Line>text("method", Sentence.of("gauge.method"), 44, Line::method),
            Column.<Line>text("figure", Sentence.of("gauge.figure"), 54, Line::figure),
            Column.<Line>number(
                "standard_deviation_deg",
                Sentence.of("gauge.deviation"),
                32,
                Look.THOUSANDTHS,
                line -> line.share() == null ? null : line.share().deviationDeg()),
            Column.<Line>number(
                "percent_of_total",
                Sentence.of("gauge.ofTotal"),
                30,
                Look.THOUSANDTHS,
                line -> line.share() == null ? null : line.share().percentOfTotal()),
            Column.<Line>number(
                "percent_of_tolerance",
                Sentence.of("gauge.ofTolerance"),
                30,
                Look.THOUSANDTHS,
                line -> line.share() == null ? null : line.share().percentOfTolerance()),
            Column.<Line>number("count", Sentence.of("gauge.count"), 20, Look.INTEGER, Line::count),
            Column.<Line>text("verdict", Sentence.of("gauge.verdict"), 60, Line::verdict)),
        lines(study, values));
  }

  static byte[] xlsx(Study study, List<StudyValue> values, Words words) {
    Book book = new Book(words);
    values(study, values).addTo(book, words.text("gauge.values"), study.name());
    figures(study, values).addTo(book, words.text("gauge.figures"), study.name());
    return book.bytes();
  }

  private static List<Line> lines(Study study, List<StudyValue> values) {
    if (study.state() != Study.State.COMPLETE) {
      return List.of();
    }
    try {
      Analysis analysis = Analysis.of(study, values);
      List<Line> lines = new ArrayList<>();
      lines.addAll(lines("gauge.byAnova", analysis.byAnova()));
      lines.addAll(lines("gauge.byRange", analysis.byRange()));
      lines.add(
          new Line(
              Sentence.of("gauge.byAnova"),
              Sentence.of("gauge.verdict"),
              null,
              null,
              Sentence.of("gauge.rating." + analysis.verdict())));
      return lines;
    } catch (ConflictException farApart) {
      return List.of(
          new Line(
              null, Sentence.of("gauge.verdict"), null, null, Sentence.of("gauge.rating.NONE")));
    }
  }

  private static List<Line> lines(String method, Analysis.Shares shares) {
    List<Line> lines = new ArrayList<>();
    for (Analysis.Share share : shares.shares()) {
      lines.add(
          new Line(
              Sentence.of(method), Sentence.of("gauge.share." + share.name()), share, null, null));
    }
    lines.add(
        new Line(
            Sentence.of(method),
            Sentence.of("gauge.ndc"),
            null,
            shares.distinctCategories(),
            null));
    return lines;
  }
}
