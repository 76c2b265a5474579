package org.equiphase.catalog;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;

/**
 * How an instrument is asked for sweeps over a raw TCP socket.
 *
 * @param host name or address
 * @param answerTimeoutS for a whole answer
 * @param sweepTimeoutS for a sweep to be done
 * @param referenceOhm reference resistance of the S-parameters that it gives
 * @param commands by step, one line each; an empty one leaves its step out, a missing one is the
 *     usual one
 */
public record ScpiConnection(
    String host,
    int port,
    double connectTimeoutS,
    double answerTimeoutS,
    double sweepTimeoutS,
    double referenceOhm,
    Map<ScpiStep, String> commands) {

  /** Stands in commands for what is to be measured, such as S21. */
  public static final String PARAMETER = "{parameter}";

  /** What IANA has registered for SCPI over a raw socket (scpi-raw). */
  public static final int USUAL_PORT = 5025;

  static final double USUAL_CONNECT_TIMEOUT_S = 3;
  static final double USUAL_ANSWER_TIMEOUT_S = 5;
  static final double USUAL_SWEEP_TIMEOUT_S = 60;
  static final double USUAL_REFERENCE_OHM = 50;

  public ScpiConnection {
    Map<ScpiStep, String> all = new EnumMap<>(ScpiStep.class);
    for (ScpiStep step : ScpiStep.values()) {
      all.put(step, Objects.requireNonNullElse(commands.get(step), step.usual()).strip());
    }
    commands = Collections.unmodifiableMap(all);
  }

  /** A connection with the usual times and commands. */
  public static ScpiConnection usual(String host, int port) {
    return new ScpiConnection(
        host,
        port,
        USUAL_CONNECT_TIMEOUT_S,
        USUAL_ANSWER_TIMEOUT_S,
        USUAL_SWEEP_TIMEOUT_S,
        USUAL_REFERENCE_OHM,
        Map.of());
  }

  /** The command of a step; empty where it is left out. */
  public String command(ScpiStep step) {
    return Objects.requireNonNull(commands.get(step));
  }
}
