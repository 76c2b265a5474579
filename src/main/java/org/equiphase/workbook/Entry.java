package org.equiphase.workbook;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.apache.poi.ss.usermodel.DateUtil;
import org.equiphase.sheet.Book;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What the floor filled into a row, read. What was left empty is null.
 *
 * @param phaseDeg as the instrument showed it, one per frequency; likewise losses and VSWR
 * @param doneAt null for now
 */
record Entry(
    @Nullable Double cutMm,
    @Nullable Double settingMm,
    List<@Nullable Double> phaseDeg,
    List<@Nullable Double> lossDb,
    List<@Nullable Double> vswr,
    @Nullable Double temperatureC,
    @Nullable String bench,
    @Nullable String initials,
    @Nullable Instant doneAt) {

  /** What is wrong with a row's cells, all of it. */
  static final class BadCellsException extends RuntimeException {
    private final List<Sentence> problems;

    BadCellsException(List<Sentence> problems) {
      super(problems.toString());
      this.problems = List.copyOf(problems);
    }

    Sentence words() {
      return problems.stream()
          .reduce((one, next) -> Sentence.of("problem.and", one, next))
          .orElseThrow();
    }
  }

  boolean tellsWork() {
    return cutMm != null || settingMm != null;
  }

  boolean tellsReading() {
    return phaseDeg.stream().anyMatch(Objects::nonNull);
  }

  /**
   * @throws BadCellsException naming the columns
   */
  static Entry read(FilledRow row, int frequencies, LocalDate today) {
    return new Reader(row, today).entry(frequencies);
  }

  /** Reads the cells of one row. */
  private static final class Reader {

    private static final Pattern INITIALS =
        Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N} .'-]{0,19}");
    private static final List<DateTimeFormatter> TIMES =
        List.of(
            DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm[:ss]", Locale.ROOT),
            DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm[:ss]", Locale.ROOT),
            DateTimeFormatter.ofPattern("d.M.uuuu HH:mm[:ss]", Locale.ROOT));
    private static final List<DateTimeFormatter> DAYS =
        List.of(
            DateTimeFormatter.ofPattern("uuuu-MM-dd", Locale.ROOT),
            DateTimeFormatter.ofPattern("d.M.uuuu", Locale.ROOT));
    private static final LocalTime END_OF_DAY = LocalTime.of(23, 59);

    private final FilledRow row;
    private final LocalDate today;
    private final List<Sentence> problems = new ArrayList<>();

    Reader(FilledRow row, LocalDate today) {
      this.row = row;
      this.today = today;
    }

    Entry entry(int frequencies) {
      List<@Nullable Double> phases = new ArrayList<>();
      List<@Nullable Double> losses = new ArrayList<>();
      List<@Nullable Double> ratios = new ArrayList<>();
      for (int k = 0; k < frequencies; k++) {
        phases.add(number(Kind.PHASE, k));
        losses.add(number(Kind.LOSS, k));
        ratios.add(number(Kind.VSWR, k));
      }
      Entry entry =
          new Entry(
              number(Kind.DONE_CUT, 0),
              number(Kind.DONE_SETTING, 0),
              phases,
              losses,
              ratios,
              number(Kind.TEMPERATURE, 0),
              text(Kind.BENCH),
              initials(),
              time());
      if (!problems.isEmpty()) {
        throw new BadCellsException(problems);
      }
      return entry;
    }

    private @Nullable Field field(Kind kind, int k) {
      return row.filled().keySet().stream()
          .filter(f -> f.kind() == kind && f.frequency() == k)
          .findFirst()
          .orElse(null);
    }

    private @Nullable Double number(Kind kind, int k) {
      Field field = field(kind, k);
      String cell = field == null ? null : row.filled().get(field);
      if (field == null || cell == null) {
        return null;
      }
      OptionalDouble value = Numbers.parse(cell);
      if (value.isEmpty()) {
        bad(field, Sentence.of("problem.noNumber", shown(cell)));
        return null;
      }
      return value.getAsDouble();
    }

    private @Nullable String text(Kind kind) {
      Field field = field(kind, 0);
      String cell = field == null ? null : row.filled().get(field);
      if (field == null || cell == null) {
        return null;
      }
      if (row.formulas().contains(field) || Book.looksLikeFormula(cell)) {
        bad(field, Sentence.of("workbook.bad.formula"));
      }
      return cell;
    }

    private @Nullable String initials() {
      int before = problems.size();
      String initials = text(Kind.INITIALS);
      if (initials != null && problems.size() == before && !INITIALS.matcher(initials).matches()) {
        bad(Field.of(Kind.INITIALS), Sentence.of("workbook.bad.initials", shown(initials)));
      }
      return initials;
    }

    /** A day alone counts as its end, today as now. */
    private @Nullable Instant time() {
      String cell = text(Kind.DONE_AT);
      if (cell == null) {
        return null;
      }
      LocalDateTime time = local(cell);
      if (time == null) {
        bad(Field.of(Kind.DONE_AT), Sentence.of("workbook.bad.date", shown(cell)));
        return null;
      }
      if (time.toLocalTime().equals(LocalTime.MIDNIGHT)) {
        if (time.toLocalDate().equals(today)) {
          return null;
        }
        time = time.with(END_OF_DAY);
      }
      return time.atZone(ZoneId.systemDefault()).toInstant();
    }

    private static @Nullable LocalDateTime local(String cell) {
      OptionalDouble serial = Numbers.parse(cell);
      if (serial.isPresent()) {
        double days = serial.getAsDouble();
        return DateUtil.isValidExcelDate(days)
            ? DateUtil.getLocalDateTime(days, false, true)
            : null;
      }
      for (DateTimeFormatter format : TIMES) {
        try {
          return LocalDateTime.parse(cell, format);
        } catch (DateTimeException e) {
          continue;
        }
      }
      for (DateTimeFormatter format : DAYS) {
        try {
          return LocalDate.parse(cell, format).atStartOfDay();
        } catch (DateTimeException e) {
          continue;
        }
      }
      return null;
    }

    private void bad(Field field, Sentence what) {
      problems.add(Sentence.of("workbook.bad.cell", field.head(), what));
    }

    private static String shown(String cell) {
      return cell.length() > 40 ? cell.substring(0, 40) + "…" : cell;
    }
  }
}
