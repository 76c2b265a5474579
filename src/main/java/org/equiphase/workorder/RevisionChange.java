package org.equiphase.workorder;

import java.io.Serializable;
import java.lang.reflect.RecordComponent;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Digits;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;

/**
 * What a revision changed: a field of the specification, an offset, or a set that it added.
 *
 * @param field its name in {@link Specification}, or "offset" or "set"
 * @param before as text with a decimal point; null where there was none
 */
public record RevisionChange(String field, @Nullable String before, @Nullable String after) {

  private static final String OFFSET = "offset";
  private static final String SET = "set";

  /** Names stay as they were given; numbers are shown with the reader's decimal sign. */
  private static final Set<String> NAMES =
      Set.of("cableTypeId", "connector", "lineStretcherId", OFFSET, SET);

  /** For a person; a dash where there was nothing. */
  public Serializable beforeShown() {
    return shown(before);
  }

  /** For a person; a dash where there is nothing. */
  public Serializable afterShown() {
    return shown(after);
  }

  private Serializable shown(@Nullable String value) {
    if (value == null) {
      return "–";
    }
    return NAMES.contains(field) ? value : new Digits(value);
  }

  static List<RevisionChange> between(Specification before, Specification after, Catalog catalog) {
    List<RevisionChange> changes = new ArrayList<>();
    for (RecordComponent component : Specification.class.getRecordComponents()) {
      Object was = value(component, before);
      Object is = value(component, after);
      if (!Objects.equals(was, is)) {
        changes.add(
            new RevisionChange(
                component.getName(),
                written(component.getName(), was, catalog),
                written(component.getName(), is, catalog)));
      }
    }
    return changes;
  }

  /** Another offset of a position. */
  static RevisionChange ofOffset(MatchedSet set, SetPosition before, PositionDraft after) {
    String place = set.name() + " / " + before.label() + ": ";
    return new RevisionChange(
        OFFSET,
        place + offset(before.offsetPhaseDeg(), before.offsetDelayPs()),
        place + offset(after.offsetPhaseDeg(), after.offsetDelayPs()));
  }

  /** A set that was added. */
  static RevisionChange ofSet(SetDraft added) {
    return new RevisionChange(
        SET,
        null,
        added.name()
            + ": "
            + added.positions().stream()
                .map(PositionDraft::serial)
                .collect(Collectors.joining(", ")));
  }

  private static String offset(double phaseDeg, double delayPs) {
    return plain(phaseDeg) + "°, " + plain(delayPs) + " ps";
  }

  private static @Nullable Object value(RecordComponent component, Specification specification) {
    try {
      return component.getAccessor().invoke(specification);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(e);
    }
  }

  private static @Nullable String written(String field, @Nullable Object value, Catalog catalog) {
    if (value == null) {
      return null;
    }
    return switch (field) {
      case "cableTypeId" -> catalog.cableType((Long) value).name();
      case "lineStretcherId" -> catalog.lineStretcher((Long) value).name();
      case "frequencies" -> frequencies((List<?>) value);
      default -> value instanceof Double number ? plain(number) : value.toString();
    };
  }

  private static String frequencies(List<?> all) {
    StringBuilder text = new StringBuilder();
    for (Object each : all) {
      FrequencySpecification f = (FrequencySpecification) each;
      text.append(text.isEmpty() ? "" : "; ")
          .append(plain(f.frequencyHz() / 1e6))
          .append(" MHz ±")
          .append(plain(f.toleranceDeg()))
          .append('°');
      append(text, ", ≤ ", f.insertionLossLimitDb(), " dB");
      append(text, ", Δ ≤ ", f.insertionLossSpreadDb(), " dB");
      append(text, ", ", f.nominalPhaseDeg(), "°");
    }
    return text.toString();
  }

  private static String plain(double value) {
    BigDecimal decimal = BigDecimal.valueOf(value);
    return decimal.signum() == 0 ? "0" : decimal.stripTrailingZeros().toPlainString();
  }

  private static void append(StringBuilder text, String head, @Nullable Double value, String unit) {
    if (value != null) {
      text.append(head).append(plain(value)).append(unit);
    }
  }
}
