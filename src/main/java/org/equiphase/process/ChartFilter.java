package org.equiphase.process;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import org.equiphase.web.Checks;
import org.equiphase.web.Require;
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
    person = Require.textOrNull(person);
    lot = Require.textOrNull(lot);
    order = Require.textOrNull(order);
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

  /** Refuses what can't be shown. */
  ChartFilter checked() {
    Checks checks = dates();
    if (!Characteristic.charted().contains(what())) {
      checks.problem("characteristic", Sentence.of("process.notCharted", what().name()));
    }
    checks.inRange("points", pointCount(), 2, MOST_POINTS);
    checks.inRange("baselineCount", baselineSize(), 2, MOST_POINTS);
    if (baseline == BaselineKind.DATES && (baselineFrom == null || baselineTo == null)) {
      checks.problem(
          baselineFrom == null ? "baselineFrom" : "baselineTo",
          Sentence.of("process.baselineDates"));
    }
    checks.done();
    return this;
  }

  /** Refuses a time that can't be shown. */
  ChartFilter checkedDates() {
    dates().done();
    return this;
  }

  private Checks dates() {
    Checks checks = new Checks();
    day(checks, "from", from);
    day(checks, "to", to);
    day(checks, "baselineFrom", baselineFrom);
    day(checks, "baselineTo", baselineTo);
    if (from != null && to != null && to.isBefore(from)) {
      checks.problem("to", Sentence.of("process.dates", to.toString(), from.toString()));
    }
    return checks;
  }

  private static void day(Checks checks, String field, @Nullable LocalDate day) {
    if (day != null && (day.getYear() < 1900 || day.getYear() > 9999)) {
      checks.problem(field, Sentence.of("process.year", day.toString()));
    }
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
    Map<String, @Nullable Object> said = new LinkedHashMap<>();
    said.put("characteristic", characteristic);
    said.put("cableType", cableType);
    said.put("bench", bench);
    said.put("person", person);
    said.put("lot", lot);
    said.put("order", order);
    said.put("series", series);
    said.put("from", from);
    said.put("to", to);
    said.put("before", before);
    said.put("points", points);
    said.put("baseline", baseline);
    said.put("baselineCount", baselineCount);
    said.put("baselineFrom", baselineFrom);
    said.put("baselineTo", baselineTo);
    said.put("small", small);
    said.put("by", by);
    if (!name.isEmpty()) {
      said.put(name, value);
    }
    said.values().removeIf(Objects::isNull);
    UriComponentsBuilder uri = UriComponentsBuilder.fromPath(path);
    said.keySet().forEach(key -> uri.queryParam(key, "{" + key + "}"));
    return uri.encode().buildAndExpand(said).toUriString();
  }
}
