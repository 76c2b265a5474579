package org.equiphase.process;

import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.process.ChartFilter.BaselineKind;
import org.equiphase.process.ControlChart.Baseline;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The limits that QA keeps for control charts. */
@Service
public class ControlLimits {

  private final ControlCharts charts;
  private final ValueTables values;
  private final LimitTables limits;
  private final AuditLog audit;
  private final Clock clock;

  ControlLimits(
      ControlCharts charts, ValueTables values, LimitTables limits, AuditLog audit, Clock clock) {
    this.charts = charts;
    this.values = values;
    this.limits = limits;
    this.audit = audit;
    this.clock = clock;
  }

  /**
   * Keeps the limits that a stretch of a selection's values gives.
   *
   * @param filter its selection; the rest of it doesn't count
   * @param from time of the first value and {@code to} of the last
   * @param count how many values were shown to whoever decides
   * @param lastId what was decided before; null for nothing
   */
  @Transactional
  public KeptLimits keep(
      ChartFilter filter, Instant from, Instant to, int count, @Nullable Long lastId, String note) {
    new Checks().text("note", note, 500).done();
    Selection selection = decidable(filter, lastId);
    List<ProcessValue> within =
        ControlCharts.oldestFirst(
            values.newest(
                selection,
                new Window(from, to.plusNanos(1000), null),
                ChartFilter.MOST_POINTS + 1));
    Baseline baseline = Baseline.of(BaselineKind.KEPT, within);
    if (baseline == null) {
      throw InvalidInputException.of("from", Sentence.of("process.baselineTooFew", within.size()));
    }
    if (within.size() != count) {
      throw new ConflictException(Sentence.of("process.baselineChanged", within.size(), count));
    }
    return record(
        selection,
        new KeptLimits(
            0,
            selection.key(),
            baseline.center(),
            baseline.sigma(),
            count,
            baseline.from(),
            baseline.to(),
            clock.instant(),
            Actor.name(),
            note,
            false));
  }

  /** Takes kept limits back; the chart goes by its first values again. */
  @Transactional
  public KeptLimits withdraw(ChartFilter filter, @Nullable Long lastId, String note) {
    new Checks().text("note", note, 500).done();
    Selection selection = decidable(filter, lastId);
    KeptLimits last =
        limits
            .last(selection.key())
            .filter(l -> !l.withdrawn())
            .orElseThrow(() -> new ConflictException(Sentence.of("process.noneKept")));
    return record(
        selection,
        new KeptLimits(
            0,
            last.selection(),
            last.center(),
            last.sigma(),
            last.baselineCount(),
            last.baselineFrom(),
            last.baselineTo(),
            clock.instant(),
            Actor.name(),
            note,
            true));
  }

  private Selection decidable(ChartFilter filter, @Nullable Long lastId) {
    Selection selection =
        charts
            .selection(filter, Window.OPEN)
            .orElseThrow(() -> new ConflictException(Sentence.of("process.nothingYet")));
    Long now = limits.last(selection.key()).map(KeptLimits::id).orElse(null);
    if (!Objects.equals(now, lastId)) {
      throw new ConflictException(Sentence.of("process.limitsChanged"));
    }
    return selection;
  }

  private KeptLimits record(Selection selection, KeptLimits decided) {
    limits.insert(decided);
    audit.record(
        decided.withdrawn() ? "CONTROL_LIMITS_WITHDRAWN" : "CONTROL_LIMITS_KEPT",
        "control chart",
        selection.series().characteristic().name() + " " + selection.key(),
        Map.of(
            "center", decided.center(),
            "sigma", decided.sigma(),
            "baselineCount", decided.baselineCount(),
            "baselineFrom", decided.baselineFrom().toString(),
            "baselineTo", decided.baselineTo().toString(),
            "note", decided.note()));
    return limits.last(selection.key()).orElseThrow();
  }
}
