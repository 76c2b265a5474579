package org.equiphase.catalog;

import static org.equiphase.catalog.ScpiConnection.USUAL_ANSWER_TIMEOUT_S;
import static org.equiphase.catalog.ScpiConnection.USUAL_CONNECT_TIMEOUT_S;
import static org.equiphase.catalog.ScpiConnection.USUAL_PORT;
import static org.equiphase.catalog.ScpiConnection.USUAL_REFERENCE_OHM;
import static org.equiphase.catalog.ScpiConnection.USUAL_SWEEP_TIMEOUT_S;

import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/** A connection as a form or a client gives it; what is left out is the usual. */
record ScpiConnectionBody(
    @Nullable String host,
    @Nullable Integer port,
    @Nullable Double connectTimeoutS,
    @Nullable Double answerTimeoutS,
    @Nullable Double sweepTimeoutS,
    @Nullable Double referenceOhm,
    @Nullable Map<ScpiStep, @Nullable String> commands) {

  ScpiConnection draft(DraftProblems problems) {
    Map<ScpiStep, String> told = new TreeMap<>();
    if (commands != null) {
      commands.forEach(
          (step, command) -> {
            if (command != null) {
              told.put(step, command);
            }
          });
    }
    return new ScpiConnection(
        problems.text(ScpiConnections.FIELD + ".host", host).strip(),
        Objects.requireNonNullElse(port, USUAL_PORT),
        Objects.requireNonNullElse(connectTimeoutS, USUAL_CONNECT_TIMEOUT_S),
        Objects.requireNonNullElse(answerTimeoutS, USUAL_ANSWER_TIMEOUT_S),
        Objects.requireNonNullElse(sweepTimeoutS, USUAL_SWEEP_TIMEOUT_S),
        Objects.requireNonNullElse(referenceOhm, USUAL_REFERENCE_OHM),
        told);
  }
}
