package org.equiphase.process;

import java.util.LinkedHashMap;
import java.util.Map;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.jspecify.annotations.Nullable;

/** What cable types and benches are called. */
public record Names(Map<Long, String> cableTypes, Map<Long, String> benches) {

  static Names of(Catalog catalog) {
    Map<Long, String> cableTypes = new LinkedHashMap<>();
    for (CableType cableType : catalog.cableTypes()) {
      cableTypes.put(cableType.id(), cableType.name());
    }
    Map<Long, String> benches = new LinkedHashMap<>();
    for (Bench bench : catalog.benches()) {
      benches.put(bench.id(), bench.name());
    }
    return new Names(cableTypes, benches);
  }

  public String cableType(@Nullable Long id) {
    return id == null ? "" : cableTypes.getOrDefault(id, "");
  }

  public String bench(@Nullable Long id) {
    return id == null ? "" : benches.getOrDefault(id, "");
  }

  /** The name of a member of a dimension. */
  public String of(Dimension dimension, Object member) {
    return switch (dimension) {
      case CABLE_TYPE -> cableType((Long) member);
      case BENCH -> bench((Long) member);
      case WEEK, PERSON, LOT -> member.toString();
    };
  }
}
