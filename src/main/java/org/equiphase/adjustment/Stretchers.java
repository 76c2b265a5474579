package org.equiphase.adjustment;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.Catalog;
import org.equiphase.rf.LineStretcher;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/**
 * The line stretchers of an order's assemblies.
 *
 * @param ofOrder fitted to every assembly that has none of its own; null for none
 * @param own by assembly
 */
record Stretchers(@Nullable LineStretcher ofOrder, Map<Long, LineStretcher> own) {

  Stretchers {
    own = Map.copyOf(own);
  }

  static Stretchers of(Specification specification, List<Assembly> assemblies, Catalog catalog) {
    Map<Long, LineStretcher> own = new HashMap<>();
    for (Assembly assembly : assemblies) {
      Long id = assembly.terms().lineStretcherId();
      if (id != null) {
        own.put(assembly.id(), catalog.lineStretcher(id).toRf());
      }
    }
    Long id = specification.lineStretcherId();
    return new Stretchers(id == null ? null : catalog.lineStretcher(id).toRf(), own);
  }

  @Nullable LineStretcher of(Assembly assembly) {
    LineStretcher fitted = own.get(assembly.id());
    return fitted == null ? ofOrder : fitted;
  }
}
