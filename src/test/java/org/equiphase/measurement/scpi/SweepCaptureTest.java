package org.equiphase.measurement.scpi;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import org.equiphase.catalog.ScpiConnection;
import org.equiphase.catalog.ScpiStep;
import org.equiphase.demo.SimulatedAnalyzer;
import org.equiphase.measurement.scpi.ScpiException.ConnectionCut;
import org.equiphase.measurement.scpi.ScpiException.InstrumentError;
import org.equiphase.measurement.scpi.ScpiException.NoAnswer;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A capture against an instrument that works, and against one with each fault. */
@Timeout(5)
class SweepCaptureTest {

  private static final List<String> BOTH = List.of("S21", "S11");
  private static final int POINTS = 21;
  private static final double DELAY_S = 5e-9;
  private static final SimulatedAnalyzer.Delivery SOUND =
      (message, answer, socket) -> socket.getOutputStream().write(answer);

  private final Map<ScpiStep, String> commands = new EnumMap<>(ScpiStep.class);
  private final List<String> asked = new CopyOnWriteArrayList<>();
  private SimulatedAnalyzer analyzer;

  @BeforeEach
  void open() throws IOException {
    analyzer = SimulatedAnalyzer.start(0);
  }

  @AfterEach
  void leavesNoConnectionOpen() throws InterruptedException {
    for (int i = 0; i < 100 && analyzer.connections() > 0; i++) {
      Thread.sleep(10);
    }
    assertThat(analyzer.connections()).isZero();
    analyzer.close();
  }

  /** A line of 5 ns has the phase −360°·f·τ. */
  @ParameterizedTest
  @CsvSource({
    "FORM:DATA ASC, LIN, 1e-10",
    "'FORM:DATA REAL,64', LIN, 1e-10",
    "'FORM:DATA REAL,32', LOG, 1e-5",
    "'FORM:DATA REAL,32;:FORM:BORD SWAP', LIN, 1e-5",
    "form:data ascii, LOG, 1e-10",
  })
  void readsWhatTheInstrumentMeasures(String format, String spacing, double tolerance)
      throws IOException {
    commands.put(ScpiStep.FORMAT, format + ";:SENS:SWE:SPAC " + spacing);
    start(SOUND);

    CapturedSweep sweep = capture(BOTH);

    assertThat(sweep.identity()).isEqualTo("Invented Shop,Simulated analyzer,0001,1.0");
    assertThat(sweep.frequenciesHz()).hasSize(POINTS).startsWith(1e9).endsWith(2e9);
    assertThat(sweep.frequenciesHz().get(POINTS / 2))
        .isCloseTo(spacing.equals("LIN") ? 1.5e9 : Math.sqrt(2) * 1e9, within(1e-3));
    for (int i = 0; i < POINTS; i++) {
      Complex through = sweep.values().get(0).get(i);
      double phaseDeg = -360 * sweep.frequenciesHz().get(i) * DELAY_S;
      assertThat(through.minus(Complex.ofPolarDeg(0.9, phaseDeg)).abs()).isLessThan(tolerance);
      assertThat(sweep.values().get(1).get(i).re()).isCloseTo(0.03, within(tolerance));
    }
  }

  @Test
  void readsRealAndImaginaryPartsApart() throws IOException {
    start(SOUND);
    List<Complex> pairs = capture(BOTH).values().get(0);

    commands.put(ScpiStep.DATA, "CALC:FORM REAL;DATA?");
    commands.put(ScpiStep.IMAGINARY_DATA, "CALC:FORM IMAG;DATA?");

    assertThat(capture(BOTH).values().get(0)).isEqualTo(pairs);
  }

  @Test
  void stepsLeftOutAreNotSent() throws IOException {
    for (ScpiStep step : List.of(ScpiStep.IDENTIFY, ScpiStep.SPACING, ScpiStep.ERRORS)) {
      commands.put(step, "");
    }
    start(
        (message, answer, socket) -> {
          asked.add(message);
          SOUND.deliver(message, answer, socket);
        });

    assertThat(capture(List.of("S11")).values()).hasSize(1);

    assertThat(asked)
        .containsExactly(
            "SENS:FREQ:STAR?",
            "SENS:FREQ:STOP?",
            "SENS:SWE:POIN?",
            "*OPC?",
            "CALC:FORM COMP;DATA?",
            "SENS:FREQ:STAR?",
            "SENS:FREQ:STOP?",
            "SENS:SWE:POIN?");
  }

  @Test
  void slowAnswersAreWaitedFor() throws IOException {
    start(
        (message, answer, socket) -> {
          Thread.sleep(message.equals("*OPC?") ? 350 : 10);
          SOUND.deliver(message, answer, socket);
        });
    assertThat(capture(List.of("S21")).values()).hasSize(1);
  }

  @Test
  void aSweepThatDoesNotEndIsGivenUp() throws IOException {
    commands.put(ScpiStep.ERRORS, "");
    start(
        (message, answer, socket) -> {
          if (!message.equals("*OPC?")) {
            SOUND.deliver(message, answer, socket);
          }
        });
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(NoAnswer.class)
        .hasMessageContaining("did not answer “*OPC?” in time");
  }

  @Test
  void aCutInTheMiddleOfABlockIsSaid() throws IOException {
    commands.put(ScpiStep.FORMAT, "FORM:DATA REAL,64");
    start(
        (message, answer, socket) -> {
          if (message.contains("DATA?")) {
            socket.getOutputStream().write(answer, 0, 100);
            socket.close();
          } else {
            SOUND.deliver(message, answer, socket);
          }
        });
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(ConnectionCut.class)
        .hasMessageContaining("after 100 bytes of the answer to “CALC:FORM COMP;DATA?”");
  }

  @Test
  void anUnknownCommandIsSaidWithTheInstrumentsOwnError() throws IOException {
    commands.put(ScpiStep.SELECT, "SENS:PARAM {parameter}");
    start(SOUND);
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(InstrumentError.class)
        .hasMessageContaining("error -113 \"Undefined header\" after “SENS:PARAM S21”")
        .satisfies(e -> assertThat(((InstrumentError) e).number()).isEqualTo(-113));
  }

  /** An unknown query is met with silence; the queue knows why. */
  @Test
  void anUnknownQueryIsSaidWithTheInstrumentsOwnError() throws IOException {
    commands.put(ScpiStep.POINTS, "SENS:SWE:NUMB?");
    start(SOUND);
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(InstrumentError.class)
        .hasMessageContaining("-113 \"Undefined header\" after “SENS:SWE:NUMB?”");
  }

  @Test
  void theStatusRegisterServesWhereThereIsNoQueue() throws IOException {
    commands.put(ScpiStep.ERRORS, "*ESR?");
    start(SOUND);
    assertThat(capture(BOTH).values()).hasSize(2);

    commands.put(ScpiStep.HOLD, "INIT:CONT MAYBE");
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(InstrumentError.class)
        .hasMessageContaining("-200 \"Execution error\" after “INIT:CONT MAYBE”");
  }

  @Test
  void allErrorsInTheQueueAreSaid() throws IOException {
    start(
        (message, answer, socket) -> {
          if (message.equals("*OPC?")) {
            analyzer.report(-310);
            analyzer.report(-222);
          }
          SOUND.deliver(message, answer, socket);
        });
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(InstrumentError.class)
        .hasMessageContaining("-310 \"System error\", -222 \"Data out of range\" after “INIT:IMM”");
  }

  /** Errors from before the capture are not its own: *CLS comes first. */
  @Test
  void oldErrorsDoNotMatter() throws IOException {
    start(SOUND);
    analyzer.report(-310);
    assertThat(capture(BOTH).values()).hasSize(2);
  }

  @ParameterizedTest
  @CsvSource({"9.91E37, is not a number", "9.9E37, is infinite", "-9.9E37, is infinite"})
  void aPointWithoutValueIsNamed(double value, String said) throws IOException {
    start(SOUND);
    for (String format : List.of("FORM:DATA ASC", "FORM:DATA REAL,32")) {
      commands.put(ScpiStep.FORMAT, format);
      analyzer.connect(
          (parameter, hertz) -> Complex.of(hertz == 1.5e9 ? value : 0.5, 0), 1e9, 2e9, POINTS);
      assertThatThrownBy(() -> capture(BOTH))
          .isInstanceOf(UnusableAnswer.class)
          .hasMessageStartingWith("S21 at point 11 (1500.0 MHz) " + said);
    }
  }

  @Test
  void aWrongCountIsSaid() throws IOException {
    start(
        (message, answer, socket) ->
            SOUND.deliver(
                message,
                message.contains("DATA?")
                    ? (new String(answer, StandardCharsets.US_ASCII).strip() + ",1\n")
                        .getBytes(StandardCharsets.US_ASCII)
                    : answer,
                socket));
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("has 43 numbers where 42 are due");
  }

  @Test
  void realPartsAloneAreNotTakenForPairs() throws IOException {
    commands.put(ScpiStep.DATA, "CALC:FORM REAL;DATA?");
    start(SOUND);
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("has 21 numbers where 42 are due")
        .hasMessageContaining("pairs or as two answers");
  }

  @Test
  void garbageIsSaid() throws IOException {
    start(
        (message, answer, socket) ->
            SOUND.deliver(
                message,
                message.startsWith("SENS")
                    ? "\u0007HELLO\n".getBytes(StandardCharsets.US_ASCII)
                    : answer,
                socket));
    assertThatThrownBy(() -> capture(BOTH))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("“SENS:FREQ:STAR?” should be a number, but is “?HELLO”");
  }

  @Test
  void changesDuringTheSweepAreNoticed() throws IOException {
    start(
        (message, answer, socket) -> {
          SOUND.deliver(message, answer, socket);
          if (message.contains("DATA?")) {
            analyzer.connect((parameter, hertz) -> Complex.ONE, 1e9, 2.5e9, POINTS);
          }
        });
    assertThatThrownBy(() -> capture(List.of("S21")))
        .isInstanceOf(UnusableAnswer.class)
        .hasMessageContaining("were changed while the sweep was taken");
  }

  @Test
  void theSentencesAreThereInGerman() throws IOException {
    commands.put(ScpiStep.SELECT, "SENS:PARAM {parameter}");
    start(SOUND);
    assertThatThrownBy(() -> capture(BOTH))
        .satisfies(
            e ->
                assertThat(((ScpiException) e).in(Locale.GERMAN))
                    .contains("meldet nach „SENS:PARAM S21“ den Fehler -113"));
  }

  /** Whoever is at the instrument gets the running sweep back, after a failure too. */
  @Test
  void theInstrumentSweepsOnAfterwards() throws Exception {
    commands.put(ScpiStep.SELECT, "SENS:PARAM {parameter}");
    start(SOUND);
    assertThatThrownBy(() -> capture(BOTH)).isInstanceOf(InstrumentError.class);
    leaveAloneForAMoment();
    try (ScpiSocket socket =
        ScpiSocket.connect(
            "127.0.0.1", analyzer.port(), Duration.ofSeconds(1), Duration.ofSeconds(1))) {
      assertThat(socket.ask("INIT:CONT?")).isEqualTo("1");
    }
  }

  private void leaveAloneForAMoment() throws InterruptedException {
    for (int i = 0; i < 100 && analyzer.connections() > 0; i++) {
      Thread.sleep(10);
    }
  }

  private void start(SimulatedAnalyzer.Delivery delivery) throws IOException {
    analyzer.close();
    analyzer = SimulatedAnalyzer.start(0, delivery);
    analyzer.connect(
        (parameter, hertz) ->
            parameter.equals("S21")
                ? Complex.ofPolarDeg(0.9, -360 * hertz * DELAY_S)
                : Complex.of(0.03, 0),
        1e9,
        2e9,
        POINTS);
  }

  private CapturedSweep capture(List<String> parameters) {
    return SweepCapture.capture(
        new ScpiConnection("127.0.0.1", analyzer.port(), 1, 0.3, 0.6, 50, commands), parameters);
  }
}
