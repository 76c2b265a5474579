package org.equiphase.web;

/**
 * What is wrong with one field of a request.
 *
 * @param field the field's path as the caller wrote it, e.g. {@code assemblies[0].serial}
 * @param message what is wrong and what would do
 */
public record FieldProblem(String field, Sentence message) {

  /** Field and message in one. */
  Sentence words() {
    return Sentence.of("problem.field", field, message);
  }
}
