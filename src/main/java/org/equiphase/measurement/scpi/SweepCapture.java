package org.equiphase.measurement.scpi;

import static org.equiphase.catalog.ScpiStep.BYTE_ORDER;
import static org.equiphase.catalog.ScpiStep.CLEAR;
import static org.equiphase.catalog.ScpiStep.DATA;
import static org.equiphase.catalog.ScpiStep.ERRORS;
import static org.equiphase.catalog.ScpiStep.FORMAT;
import static org.equiphase.catalog.ScpiStep.HOLD;
import static org.equiphase.catalog.ScpiStep.IDENTIFY;
import static org.equiphase.catalog.ScpiStep.IMAGINARY_DATA;
import static org.equiphase.catalog.ScpiStep.POINTS;
import static org.equiphase.catalog.ScpiStep.RELEASE;
import static org.equiphase.catalog.ScpiStep.SELECT;
import static org.equiphase.catalog.ScpiStep.SPACING;
import static org.equiphase.catalog.ScpiStep.START;
import static org.equiphase.catalog.ScpiStep.STOP;
import static org.equiphase.catalog.ScpiStep.TRIGGER;
import static org.equiphase.catalog.ScpiStep.WAIT;

import java.nio.ByteOrder;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;
import org.equiphase.catalog.ScpiConnection;
import org.equiphase.catalog.ScpiStep;
import org.equiphase.measurement.scpi.ScpiException.NoAnswer;
import org.equiphase.measurement.scpi.ScpiException.UnusableAnswer;
import org.equiphase.rf.Complex;

/**
 * Takes a sweep from an instrument by the commands of its catalog entry. The instrument must be set
 * and calibrated already: nothing is set but what those commands set, and *RST, which would undo
 * the calibration, is never sent of its own accord.
 */
public final class SweepCapture {

  /**
   * From here on a number means none: SCPI-99, volume 1, 7.2.1.4 and 7.2.1.5, has 9.9E37 for
   * infinity and 9.91E37 for not a number.
   */
  private static final double LEAST_NON_NUMBER = 9.89e37;

  private static final double LEAST_NAN = 9.905e37;

  private final ScpiConnection connection;
  private final ScpiSocket socket;
  private final ErrorQueue errors;

  private SweepCapture(ScpiConnection connection, ScpiSocket socket) {
    this.connection = connection;
    this.socket = socket;
    this.errors = new ErrorQueue(socket, connection.command(ERRORS));
  }

  /**
   * Connects, takes one sweep for each parameter, and closes the connection whatever comes.
   *
   * @param parameters such as S21; each takes the place of {parameter} in the commands
   * @throws ScpiException saying what went wrong
   */
  public static CapturedSweep capture(ScpiConnection connection, List<String> parameters) {
    try (ScpiSocket socket = open(connection)) {
      SweepCapture capture = new SweepCapture(connection, socket);
      try {
        return capture.run(parameters);
      } finally {
        if (capture.has(RELEASE)) {
          socket.sendLast(connection.command(RELEASE));
        }
      }
    }
  }

  /**
   * Connects and asks the instrument what it is.
   *
   * @throws ScpiException saying what went wrong
   */
  public static String identify(ScpiConnection connection) {
    try (ScpiSocket socket = open(connection)) {
      return new SweepCapture(connection, socket).identity();
    }
  }

  private static ScpiSocket open(ScpiConnection connection) {
    return ScpiSocket.connect(
        connection.host(),
        connection.port(),
        seconds(connection.connectTimeoutS()),
        seconds(connection.answerTimeoutS()));
  }

  private CapturedSweep run(List<String> parameters) {
    String identity = identity();
    if (has(CLEAR)) {
      socket.send(connection.command(CLEAR));
    }
    tell(HOLD, "");
    tell(FORMAT, "");
    Stimulus stimulus = stimulus();
    List<Double> frequenciesHz = stimulus.frequenciesHz();
    List<List<Complex>> values = new ArrayList<>();
    for (String parameter : parameters) {
      tell(SELECT, parameter);
      sweep(parameter);
      values.add(values(parameter, frequenciesHz));
    }
    if (!stimulus.equals(stimulus())) {
      throw new UnusableAnswer("changedMeanwhile");
    }
    return new CapturedSweep(identity, frequenciesHz, values);
  }

  private String identity() {
    return has(IDENTIFY) ? ask(IDENTIFY, "", answerTimeout()) : "";
  }

  private Stimulus stimulus() {
    return Stimulus.of(
        number(START),
        number(STOP),
        number(POINTS),
        has(SPACING) ? ask(SPACING, "", answerTimeout()) : "");
  }

  private double number(ScpiStep step) {
    return NumberAnswer.number(connection.command(step), ask(step, "", answerTimeout()));
  }

  /** The errors wait until the sweep is done: many instruments answer nothing before. */
  private void sweep(String parameter) {
    if (has(TRIGGER)) {
      socket.send(command(TRIGGER, parameter));
    }
    if (has(WAIT)) {
      String done = ask(WAIT, parameter, sweepTimeout());
      if (!done.matches("\\+?1")) {
        throw new UnusableAnswer("notDone", command(WAIT, parameter), ScpiSocket.shown(done));
      }
      errors.requireNone(command(TRIGGER, parameter));
    }
  }

  private List<Complex> values(String parameter, List<Double> frequenciesHz) {
    int points = frequenciesHz.size();
    double[] re = new double[points];
    double[] im = new double[points];
    if (has(IMAGINARY_DATA)) {
      re = numbers(DATA, parameter, points);
      im = numbers(IMAGINARY_DATA, parameter, points);
    } else {
      double[] pairs = numbers(DATA, parameter, 2 * points);
      for (int i = 0; i < points; i++) {
        re[i] = pairs[2 * i];
        im[i] = pairs[2 * i + 1];
      }
    }
    List<Complex> values = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      requireNumber(parameter, i, frequenciesHz.get(i), re[i]);
      requireNumber(parameter, i, frequenciesHz.get(i), im[i]);
      values.add(Complex.of(re[i], im[i]));
    }
    return values;
  }

  private double[] numbers(ScpiStep step, String parameter, int count) {
    String query = command(step, parameter);
    // Without a wait of its own the sweep ends before its data comes.
    Duration timeout = has(WAIT) ? answerTimeout() : sweepTimeout();
    NumberAnswer answer = explained(query, () -> socket.askNumbers(query, count, timeout));
    ByteOrder order = ByteOrder.BIG_ENDIAN;
    if (answer.isBlock() && has(BYTE_ORDER)) {
      String said = ask(BYTE_ORDER, "", answerTimeout()).toUpperCase(Locale.ROOT);
      if (said.startsWith("SWAP")) {
        order = ByteOrder.LITTLE_ENDIAN;
      } else if (!said.startsWith("NORM")) {
        throw new UnusableAnswer(
            "byteOrder", connection.command(BYTE_ORDER), ScpiSocket.shown(said));
      }
    }
    double[] numbers = answer.numbers(count, order);
    errors.requireNone(query);
    return numbers;
  }

  private static void requireNumber(String parameter, int point, double hertz, double value) {
    if (Double.isNaN(value) || Math.abs(value) >= LEAST_NON_NUMBER) {
      boolean infinite = Double.isInfinite(value) || Math.abs(value) < LEAST_NAN;
      throw new UnusableAnswer(
          infinite ? "infinite" : "notANumber", parameter, point + 1, hertz / 1e6, value);
    }
  }

  private void tell(ScpiStep step, String parameter) {
    if (has(step)) {
      String command = command(step, parameter);
      socket.send(command);
      errors.requireNone(command);
    }
  }

  private String ask(ScpiStep step, String parameter, Duration timeout) {
    String query = command(step, parameter);
    return explained(query, () -> socket.ask(query, timeout));
  }

  /** A query that the instrument does not know gets no answer but an error in the queue. */
  private <T> T explained(String query, Supplier<T> question) {
    try {
      return question.get();
    } catch (NoAnswer e) {
      if (!e.isPartial()) {
        errors.explain(e, query);
      }
      throw e;
    }
  }

  private boolean has(ScpiStep step) {
    return !connection.command(step).isEmpty();
  }

  private String command(ScpiStep step, String parameter) {
    return connection.command(step).replace(ScpiConnection.PARAMETER, parameter);
  }

  private Duration answerTimeout() {
    return seconds(connection.answerTimeoutS());
  }

  private Duration sweepTimeout() {
    return seconds(connection.sweepTimeoutS());
  }

  private static Duration seconds(double seconds) {
    return Duration.ofNanos(Math.round(seconds * 1e9));
  }
}
