package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.equiphase.rf.InvalidQuantityException;
import org.jspecify.annotations.Nullable;

/** Reads lists of a request so that an error names the element. */
final class Fields {

  private Fields() {}

  interface Element<T, R> {
    R read(String at, T element);
  }

  static <T, R> List<R> indexed(
      String field, List<? extends @Nullable T> list, Element<T, R> element) {
    List<R> read = new ArrayList<>();
    for (int i = 0; i < list.size(); i++) {
      String at = field + "[" + i + "]";
      read.add(element.read(at, present(at, list.get(i))));
    }
    return read;
  }

  /** Builds a part of a request; a refusal that names a field of the part then names its place. */
  static <R> R located(String at, Supplier<R> part) {
    try {
      return part.get();
    } catch (InvalidQuantityException e) {
      throw new InvalidQuantityException(at + "." + e.field(), String.valueOf(e.getMessage()));
    }
  }

  static @Nullable Double nullable(OptionalDouble value) {
    return value.isPresent() ? value.getAsDouble() : null;
  }
}
