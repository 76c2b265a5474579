package org.equiphase.catalog;

import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import org.equiphase.web.Sentence;

/** The form of one kind of entry: its fields, and the way from an entry to typed texts and back. */
interface EntryForm<T extends CatalogEntry> {

  /** The kind's part of the address, such as cable-types. */
  String path();

  /** What one entry is called, such as cable type: a kind of {@code term.kind}. */
  String noun();

  List<Field> fields();

  /** The texts with which a new entry's form opens. */
  Map<String, List<String>> blank();

  /** An entry's values as texts, by field name. */
  Map<String, List<String>> texts(T entry);

  /** What the values mean at the bench, in a sentence each; may be empty. */
  default List<Sentence> meaning(T entry) {
    return List.of();
  }

  T get(long id);

  /** A table of two numbers a row, as the form shows it and reads it again. */
  static <P> String rows(List<P> points, ToDoubleFunction<P> first, ToDoubleFunction<P> second) {
    return points.stream()
        .map(
            point ->
                NumberText.typed(first.applyAsDouble(point))
                    + "; "
                    + NumberText.typed(second.applyAsDouble(point)))
        .collect(Collectors.joining("\n"));
  }

  /** Stores what the form holds, or throws as {@link Catalog} does. */
  T save(long id, int version, FormReader form);
}
