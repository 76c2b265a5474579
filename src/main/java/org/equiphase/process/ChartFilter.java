package org.equiphase.process;

import java.time.LocalDate;
import org.equiphase.web.Checks;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.util.UriComponentsBuilder;

/**
 * What a page or a program asks to see.
 *
 * @param cableType and bench: their ids
 * @param order number of the order
 * @param series id of the frequency, or of the reference cable and frequency; null for the one
 *     measured last
 * @param from the first day and to the last
 * @param before id of a value: only those older than it
 * @param points how many of the newest values at most; null for 200
 * @param baseline what the control limits come from; null for the kept ones, or the first values
 * @param baselineCount how many first values; null for 25
 * @param small chart of small shifts beside; null for none
 * @param by what to compare
 */
public record ChartFilter(
    @Nullable Characteristic characteristic,
    @Nullable Long cableType,
    @Nullable Long bench,
    @Nullable String person,
    @Nullable String lot,
    @Nullable String order,
    @Nullable Long series,
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
    @Nullable Long before,
    @Nullable Integer points,
    @Nullable BaselineKind baseline,
    @Nullable Integer baselineCount,
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate baselineFrom,
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate baselineTo,
    @Nullable SmallShift small,
    @Nullable Dimension by) {

  static final int USUAL_POINTS = 200;
  static final int MOST_POINTS = 1000;
  static final int USUAL_BASELINE = 25;

  /** What control limits come from. */
  public enum BaselineKind {
    FIRST,
    DATES,
    KEPT
  }

  /** A chart that remembers. */
  public enum SmallShift {
    EWMA,
    CUSUM
  }

  public ChartFilter {
    person = given(person);
    lot = given(lot);
    order = given(order);
  }

  static ChartFilter of(Characteristic characteristic) {
    return new ChartFilter(
        characteristic,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null,
        null);
  }

  /** The same of another characteristic, with any series. */
  ChartFilter as(Characteristic other) {
    return new ChartFilter(
        other,
        cableType,
        bench,
        person,
        lot,
        order,
        null,
        from,
        to,
        before,
        points,
        baseline,
        baselineCount,
        baselineFrom,
        baselineTo,
        small,
        by);
  }

  private static @Nullable String given(@Nullable String text) {
    return text == null || text.isBlank() ? null : text.strip();
  }

  /** Refuses what can't be shown. */
  ChartFilter checked() {
    Checks checks = new Checks();
    if (!Characteristic.charted().contains(what())) {
      checks.problem("characteristic", Sentence.of("process.notCharted", what().name()));
    }
    checks.inRange("points", pointCount(), 2, MOST_POINTS);
    checks.inRange("baselineCount", baselineSize(), 2, MOST_POINTS);
    if (from != null && to != null && to.isBefore(from)) {
      checks.problem("to", Sentence.of("process.dates", to.toString(), from.toString()));
    }
    if (baseline == BaselineKind.DATES && (baselineFrom == null || baselineTo == null)) {
      checks.problem(
          baselineFrom == null ? "baselineFrom" : "baselineTo",
          Sentence.of("process.baselineDates"));
    }
    checks.done();
    return this;
  }

  int pointCount() {
    return points == null ? USUAL_POINTS : points;
  }

  int baselineSize() {
    return baselineCount == null ? USUAL_BASELINE : baselineCount;
  }

  Characteristic what() {
    return characteristic == null ? Characteristic.FIRST_ERROR : characteristic;
  }

  /** The filters, with a series still to be chosen. */
  Selection selection() {
    return new Selection(Series.of(what(), 0), cableType, bench, person, lot, order);
  }

  /** The address of a page with this filter. */
  public String at(String path) {
    return at(path, "", null);
  }

  /** The same with one value changed, or left out where it is null. */
  public String at(String path, String name, @Nullable Object value) {
    UriComponentsBuilder uri = UriComponentsBuilder.fromPath(path);
    put(uri, name, value, "characteristic", characteristic);
    put(uri, name, value, "cableType", cableType);
    put(uri, name, value, "bench", bench);
    put(uri, name, value, "person", person);
    put(uri, name, value, "lot", lot);
    put(uri, name, value, "order", order);
    put(uri, name, value, "series", series);
    put(uri, name, value, "from", from);
    put(uri, name, value, "to", to);
    put(uri, name, value, "before", before);
    put(uri, name, value, "points", points);
    put(uri, name, value, "baseline", baseline);
    put(uri, name, value, "baselineCount", baselineCount);
    put(uri, name, value, "baselineFrom", baselineFrom);
    put(uri, name, value, "baselineTo", baselineTo);
    put(uri, name, value, "small", small);
    put(uri, name, value, "by", by);
    return uri.encode().build().toUriString();
  }

  private static void put(
      UriComponentsBuilder uri,
      String changed,
      @Nullable Object value,
      String name,
      @Nullable Object own) {
    Object said = name.equals(changed) ? value : own;
    if (said != null) {
      uri.queryParam(name, said.toString().replace("+", "%2B").replace("&", "%26"));
    }
  }
}
