package org.equiphase.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class NumbersTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      textBlock =
          """
          0.695  ; 0.695
          0,695  ; 0.695
          ' 12 ' ; 12
          \u22124,5 ; -4.5
          +3     ; 3
          .5     ; 0.5
          ,5     ; 0.5
          5.     ; 5
          2,8e9  ; 2800000000
          """)
  void readsDecimalPointAndComma(String typed, double value) {
    assertThat(Numbers.parse(typed)).hasValue(value);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        " ",
        "-",
        ".",
        ",",
        "1,234.5",
        "1.234,5",
        "1 234",
        "1_000",
        "NaN",
        "Infinity",
        "0x10",
        "5d",
        "5f",
        "5 mm",
        "1e999",
        "--5",
        "٣"
      })
  void refusesEverythingElse(String typed) {
    assertThat(Numbers.parse(typed)).isEmpty();
  }
}
