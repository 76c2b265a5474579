package org.equiphase.workorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.equiphase.web.InvalidInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ScanCodeTest {

  @Test
  void aSerialASheetAndAStep() {
    assertThat(ScanCode.read("code", " SW-A-001\r"))
        .isEqualTo(new ScanCode("SW-A-001", null, null));
    assertThat(ScanCode.read("code", "SW-A-001/B")).isEqualTo(new ScanCode("SW-A-001", "B", null));
    assertThat(ScanCode.read("code", "SW-A-001/AA/12"))
        .isEqualTo(new ScanCode("SW-A-001", "AA", 12L));
  }

  @ParameterizedTest
  @ValueSource(strings = {"SW-A-001", "SW-A-001/B", "SW-A-001/B/5"})
  void printsAsItIsRead(String text) {
    assertThat(ScanCode.read("code", text)).hasToString(text);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "/", "S/", "S//5", "S/5", "S/B/", "S/B/x", "S/B/5/1", "two words"})
  void refusesWhatIsNone(String text) {
    assertThatThrownBy(() -> ScanCode.read("code", text))
        .isInstanceOf(InvalidInputException.class)
        .hasMessageContaining("code")
        .hasMessageContaining("serial/revision/step");
  }
}
