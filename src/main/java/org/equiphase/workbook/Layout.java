package org.equiphase.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.equiphase.sheet.Words;
import org.equiphase.web.Texts;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** The columns of an order's instructions, in their order. */
record Layout(List<Field> fields) {

  private static final List<Kind> OF_STRETCHERS =
      List.of(Kind.LINE_PER_MM, Kind.SETTING_NOW, Kind.SETTING, Kind.DONE_SETTING);

  Layout {
    fields = List.copyOf(fields);
  }

  /** What an order with these assemblies needs. */
  static Layout of(Specification specification, List<Assembly> assemblies) {
    boolean stretchers =
        specification.lineStretcherId() != null
            || assemblies.stream().anyMatch(a -> a.lineStretcherId(specification) != null);
    return of(specification, stretchers);
  }

  /** All that a workbook of the order may have. */
  static Layout widest(Specification specification) {
    return of(specification, true);
  }

  private static Layout of(Specification specification, boolean stretchers) {
    List<FrequencySpecification> frequencies = specification.frequencies();
    List<Field> fields = new ArrayList<>();
    for (Kind kind : Kind.values()) {
      if (OF_STRETCHERS.contains(kind) && !stretchers) {
        continue;
      }
      if (!kind.isPerFrequency()) {
        fields.add(Field.of(kind));
        continue;
      }
      IntStream.range(0, frequencies.size())
          .filter(k -> isAsked(kind, specification, frequencies.get(k)))
          .mapToObj(k -> new Field(kind, k, frequencies.get(k).frequencyHz()))
          .forEach(fields::add);
    }
    return new Layout(fields);
  }

  /** Losses and VSWR are measured again only where the order limits them. */
  private static boolean isAsked(
      Kind kind, Specification specification, FrequencySpecification frequency) {
    return switch (kind) {
      case LOSS ->
          frequency.insertionLossLimitDb() != null || frequency.insertionLossSpreadDb() != null;
      case VSWR -> specification.vswrLimit() != null;
      default -> true;
    };
  }

  int column(Field field) {
    return fields.indexOf(field);
  }

  int column(Kind kind, int frequency) {
    for (int c = 0; c < fields.size(); c++) {
      if (fields.get(c).kind() == kind && fields.get(c).frequency() == frequency) {
        return c;
      }
    }
    throw new IllegalArgumentException("no column " + kind);
  }

  boolean has(Kind kind) {
    return fields.stream().anyMatch(field -> field.kind() == kind);
  }

  /** Fields by their headings in any language, as {@link #plain} writes them. */
  Map<String, Field> byHead() {
    Map<String, Field> heads = new TreeMap<>();
    for (Field field : fields) {
      for (Locale language : Texts.LANGUAGES) {
        heads.put(plain(new Words(language).say(field.head())), field);
      }
    }
    return heads;
  }

  /** A heading without what programs and people change about it. */
  static String plain(@Nullable String head) {
    return head == null
        ? ""
        : head.replaceAll("[\\s\\u00a0]+", " ").strip().toLowerCase(Locale.ROOT);
  }
}
