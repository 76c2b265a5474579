package org.equiphase.web;

import java.beans.PropertyEditorSupport;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/**
 * Reads the numbers of forms and queries as finite decimals only. This must be an editor: where a
 * converter fails, Spring falls back on its own editor, which takes "NaN" for a number.
 */
@ControllerAdvice
class FiniteFormNumbers {

  @InitBinder
  void register(WebDataBinder binder) {
    binder.registerCustomEditor(Double.class, new Editor());
    binder.registerCustomEditor(double.class, new Editor());
  }

  static final class Editor extends PropertyEditorSupport {
    @Override
    public void setAsText(@Nullable String text) {
      String trimmed = text == null ? "" : text.strip();
      if (trimmed.isEmpty()) {
        setValue(null);
        return;
      }
      // Java would also read a type suffix ("2d") and hexadecimal digits.
      if (trimmed.matches("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?")) {
        double value = Double.parseDouble(trimmed);
        if (Double.isFinite(value)) {
          setValue(value);
          return;
        }
      }
      throw new InvalidNumberException(
          Sentence.of(
              trimmed.matches("[+-]?\\d+,\\d+") ? "problem.decimalPoint" : "problem.notANumber",
              String.valueOf(text)));
    }
  }
}
