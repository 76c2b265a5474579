package org.equiphase.calculator;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A calculation as a page: its form, and what its template shows of the result. The template is
 * called after {@link #name}, and finds the result as {@code r}.
 */
interface Calculation {

  /** Last part of the page's address. */
  String name();

  /** Key of its title. */
  String title();

  /** Key of what it answers, in one line. */
  String about();

  List<Input> inputs();

  /** The result, by the same functions as the calculation of the API. */
  Object calculate(Typed typed);

  /** Whether the form is sent rather than put in the address: lists and files are. */
  default boolean posted() {
    return inputs().stream().anyMatch(i -> i.kind() == Input.Kind.AREA) || upload();
  }

  default boolean upload() {
    return inputs().stream().anyMatch(i -> i.kind() == Input.Kind.FILE);
  }

  /** The form filled in with its example. */
  default Map<String, String> example() {
    Map<String, String> example = new LinkedHashMap<>();
    inputs().forEach(input -> example.put(input.name(), input.example()));
    return example;
  }
}
