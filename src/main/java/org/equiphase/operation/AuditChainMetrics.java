package org.equiphase.operation;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.binder.MeterBinder;
import java.util.function.ToDoubleFunction;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.springframework.stereotype.Component;

/** What the last check of the audit log found, as numbers; NaN until the first has ended. */
@Component
class AuditChainMetrics implements MeterBinder {

  private final ChainChecker checker;

  AuditChainMetrics(ChainChecker checker) {
    this.checker = checker;
  }

  @Override
  public void bindTo(MeterRegistry registry) {
    gauge(registry, "entries", "Entries of the audit log", ChainCheck::entries);
    gauge(
        registry,
        "faults",
        "Entries and sealed rows that are not as they were written",
        check -> check.linksInAll() + check.sealsInAll());
    gauge(
        registry,
        "checked.seconds",
        "When the audit log was last checked, seconds since 1970",
        check -> check.at().getEpochSecond());
  }

  private void gauge(
      MeterRegistry registry, String name, String words, ToDoubleFunction<ChainCheck> value) {
    Gauge.builder(
            "equiphase.audit." + name,
            checker,
            asked -> asked.latest().map(value::applyAsDouble).orElse(Double.NaN))
        .description(words)
        .register(registry);
  }
}
