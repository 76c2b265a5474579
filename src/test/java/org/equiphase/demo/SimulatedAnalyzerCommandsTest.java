package org.equiphase.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The simulated analyzer speaks as SCPI-99, volume 1, chapters 6 and 7, has it (from memory). */
class SimulatedAnalyzerCommandsTest {

  private final SimulatedAnalyzerCommands commands = new SimulatedAnalyzerCommands();

  @ParameterizedTest
  @CsvSource({
    "SENS:FREQ:STAR?, 1.00000000000E+09",
    ":SENSe:FREQuency:STARt?, 1.00000000000E+09",
    "sens1:frequency:star?, 1.00000000000E+09",
    "FREQ:STAR?, 1.00000000000E+09",
    "'SENS:FREQ:STAR?;STOP?', 1.00000000000E+09;2.00000000000E+09",
    "'SENS:FREQ:STAR 3e9;:SENS:FREQ:STAR?', 3.00000000000E+09",
    "'SENS:SWE:POIN?;SPAC?', 201;LIN",
    "'CALC:FORM COMPLEX;FORM?', COMP",
    "'CALC:FORM comp;*CLS;FORM?', COMP",
    "'FORM REAL, 64;:FORM?', 'REAL,64'",
    "'SENS:FUNC \"XFR:POW:S11\";FUNC?', \"XFR:POW:S11\"",
  })
  void answers(String message, String answer) {
    assertThat(ask(message)).isEqualTo(answer + "\n");
    assertThat(ask("SYST:ERR?")).isEqualTo("0,\"No error\"\n");
  }

  @ParameterizedTest
  @CsvSource({
    "SENS:FREQ:STA?, -113, Undefined header",
    "SENSE:FREQU:STAR?, -113, Undefined header",
    "'SENS:FREQ:STAR?;SENS:FREQ:STOP?', -113, Undefined header",
    "INIT:IMM, -213, Init ignored",
    "CALC:DATA?, -230, Data corrupt or stale",
    "SENS:SWE:POIN 1, -222, Data out of range",
    "SENS:SWE:POIN many, -224, Illegal parameter value",
    "SENS:SWE:POIN, -109, Missing parameter",
    "*IDN? 1, -108, Parameter not allowed",
    "SENS:FUNC XFR:POW:S11, -224, Illegal parameter value",
  })
  void keepsErrors(String message, int number, String text) {
    ask(message);
    assertThat(ask("SYST:ERR:NEXT?")).isEqualTo(number + ",\"" + text + "\"\n");
    assertThat(ask("SYST:ERR?")).isEqualTo("0,\"No error\"\n");
  }

  @Test
  void aFullQueueSaysSo() {
    for (int i = 0; i < 25; i++) {
      ask("NONSENSE");
    }
    for (int i = 0; i < 19; i++) {
      assertThat(ask("SYST:ERR?")).startsWith("-113");
    }
    assertThat(ask("SYST:ERR?")).startsWith("-350");
    assertThat(ask("SYST:ERR?")).startsWith("0,");
  }

  @Test
  void theStatusRegisterIsClearedByReading() {
    ask("NONSENSE");
    assertThat(ask("*ESR?")).isEqualTo("32\n");
    assertThat(ask("*ESR?")).isEqualTo("0\n");
  }

  private String ask(String message) {
    return new String(commands.answer(message), StandardCharsets.US_ASCII);
  }
}
