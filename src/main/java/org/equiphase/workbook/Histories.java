package org.equiphase.workbook;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.equiphase.adjustment.Instruction;
import org.equiphase.audit.AuditEntry;
import org.equiphase.catalog.Bench;
import org.equiphase.measurement.Reading;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Words;
import org.equiphase.web.Figure;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.WorkOrder;

/** The sheets of readings and of changes: assembly by assembly, the oldest first. */
final class Histories {

  private static final double TIME_MM = 36;
  private static final int MOST_ON_A4 = 14;

  private final Book book;
  private final Words words;
  private final WorkOrder order;
  private final Map<Long, String> benchNames;
  private final LongTable read;
  private final LongTable changed;

  Histories(Book book, WorkOrder order, List<Bench> benches) {
    this.book = book;
    this.words = book.words();
    this.order = order;
    benchNames = benches.stream().collect(Collectors.toMap(Bench::id, Bench::name));
    read = new LongTable("workbook.sheet.readings");
    changed = new LongTable("workbook.sheet.changes");
    heads();
  }

  private void heads() {
    read.head(28, Sentence.of("workbook.column.serial"));
    read.head(16, Sentence.of("workbook.reading.number"));
    read.head(TIME_MM, Sentence.of("workbook.reading.takenAt"));
    read.head(40, Sentence.of("workbook.column.bench"));
    read.head(28, Sentence.of("workbook.reading.by"));
    read.head(20, Sentence.of("workbook.column.temperature"));
    for (FrequencySpecification f : order.specification().frequencies()) {
      String ghz = Field.ghz(f.frequencyHz());
      read.head(22, Sentence.of("workbook.reading.shown", ghz));
      read.head(22, Sentence.of("workbook.reading.phase", ghz));
      read.head(18, Sentence.of("workbook.reading.loss", ghz));
      read.head(16, Sentence.of("workbook.reading.vswr", ghz));
    }
    read.head(22, Sentence.of("workbook.reading.uncertainty"));
    read.head(50, Sentence.of("workbook.reading.voided"));
    changed.head(28, Sentence.of("workbook.column.serial"));
    changed.head(TIME_MM, Sentence.of("workbook.change.at"));
    changed.head(30, Sentence.of("workbook.change.by"));
    changed.head(120, Sentence.of("workbook.change.what"));
  }

  private record Change(Instant at, String by, Sentence what) {}

  /** What happened to the order itself. */
  void order(List<AuditEntry> newestFirst) {
    newestFirst.stream()
        .sorted(Comparator.comparing(AuditEntry::id))
        .map(
            entry ->
                new Change(
                    entry.at(),
                    entry.actor(),
                    switch (entry.action()) {
                      case "ORDER_CREATED" -> Sentence.of("workbook.change.created");
                      case "ORDER_REVISED" -> Sentence.of("workbook.change.revised");
                      default -> Sentence.of("workbook.change.changed");
                    }))
        .forEach(change -> add("", change));
  }

  void assembly(String serial, List<Reading> readings, List<Instruction> instructions) {
    readings.stream()
        .sorted(Comparator.comparing(Reading::id))
        .forEach(reading -> add(serial, reading));
    List<Change> changes = new ArrayList<>();
    readings.forEach(reading -> add(changes, reading));
    instructions.forEach(instruction -> add(changes, instruction));
    changes.sort(Comparator.comparing(Change::at));
    changes.forEach(change -> add(serial, change));
  }

  private static void add(List<Change> changes, Reading reading) {
    changes.add(
        new Change(
            reading.recordedAt(),
            reading.recordedBy(),
            Sentence.of("workbook.change.read", reading.id())));
    Reading.Voided voided = reading.voided();
    if (voided != null) {
      changes.add(
          new Change(
              voided.at(),
              voided.by(),
              Sentence.of("workbook.change.voided", reading.id(), voided.reason())));
    }
  }

  private static void add(List<Change> changes, Instruction instruction) {
    changes.add(
        new Change(
            instruction.issuedAt(),
            "",
            switch (instruction.action()) {
              case TRIM ->
                  Sentence.of(
                      "workbook.change.askedCut",
                      instruction.id(),
                      Figure.plain(instruction.trimMm()));
              case STRETCH ->
                  Sentence.of(
                      "workbook.change.askedSetting",
                      instruction.id(),
                      Figure.plain(Objects.requireNonNull(instruction.settingMm())));
              case HOLD ->
                  Sentence.of("workbook.change.askedHold", instruction.id(), instruction.reason());
            }));
    Instruction.Done done = instruction.done();
    if (done != null) {
      Double trimMm = done.trimMm();
      changes.add(
          new Change(
              done.at(),
              done.by(),
              Sentence.of(
                  trimMm != null ? "workbook.change.cut" : "workbook.change.set",
                  instruction.id(),
                  Figure.plain(trimMm != null ? trimMm : Objects.requireNonNull(done.settingMm())),
                  done.note())));
    }
  }

  private void add(String serial, Change change) {
    Row row = changed.row();
    book.text(row, 0, serial, Look.TEXT);
    book.time(row, 1, change.at());
    book.text(row, 2, change.by(), Look.TEXT);
    book.text(row, 3, words.say(change.what()), Look.TEXT);
    Book.fit(row, 1);
  }

  private void add(String serial, Reading reading) {
    Row row = read.row();
    book.text(row, 0, serial, Look.TEXT);
    book.number(row, 1, reading.id(), Look.INTEGER);
    book.time(row, 2, reading.takenAt());
    book.text(row, 3, benchNames.get(reading.benchId()), Look.TEXT);
    book.text(row, 4, reading.recordedBy(), Look.TEXT);
    book.number(row, 5, reading.temperatureC(), Look.QUANTITY);
    int c = 6;
    for (Reading.Spot spot : reading.spots()) {
      book.number(row, c++, spot.measuredPhaseDeg(), Look.DEGREES);
      book.number(row, c++, spot.phaseDeg(), Look.DEGREES);
      book.number(row, c++, spot.insertionLossDb(), Look.THOUSANDTHS);
      book.number(row, c++, spot.vswr(), Look.THOUSANDTHS);
    }
    book.number(row, c++, reading.standardUncertaintyDeg(), Look.THOUSANDTHS);
    Reading.Voided voided = reading.voided();
    book.text(row, c, voided == null ? "" : voided.reason(), Look.TEXT);
    Book.fit(row, 1);
  }

  void finish(String footer) {
    read.finish(footer);
    changed.finish(footer);
  }

  /** A long sheet with one row of headings. */
  private final class LongTable {
    private final SXSSFSheet sheet;
    private final Row head;
    private int columns;
    private int rows;

    LongTable(String nameKey) {
      sheet = book.longSheet(words.text(nameKey));
      head = sheet.createRow(0);
    }

    void head(double widthMm, Sentence name) {
      book.head(head, columns, words.say(name), widthMm);
      columns++;
    }

    Row row() {
      if (rows == 0) {
        Book.fit(head, columns > MOST_ON_A4 ? 3 : 1);
      }
      rows++;
      return sheet.createRow(rows);
    }

    void finish(String footer) {
      sheet.createFreezePane(1, 1);
      sheet.setAutoFilter(new CellRangeAddress(0, rows, 0, columns - 1));
      sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
      Book.Page page = columns > MOST_ON_A4 ? Book.Page.LANDSCAPE_A3 : Book.Page.LANDSCAPE;
      book.print(sheet, page, rows, columns - 1, footer);
    }
  }
}
