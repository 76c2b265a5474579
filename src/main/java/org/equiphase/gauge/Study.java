package org.equiphase.gauge;

import java.time.Instant;
import java.util.List;
import org.equiphase.web.Sentence;

/**
 * A gauge study of a bench: every appraiser measures every part several times, in an order of the
 * study's own.
 *
 * @param toleranceWidthDeg upper less lower limit of the phase that the bench has to judge
 * @param seed of the order
 * @param parts serials, and appraisers usernames
 * @param cancelReason empty unless cancelled
 */
public record Study(
    long id,
    int version,
    String name,
    long benchId,
    double frequencyHz,
    double toleranceWidthDeg,
    int trials,
    long seed,
    List<String> parts,
    List<String> appraisers,
    String plannedBy,
    Instant plannedAt,
    State state,
    String cancelReason) {

  public enum State {
    RUNNING,
    COMPLETE,
    CANCELLED;

    public Sentence words() {
      return Sentence.of("gauge.state." + name());
    }
  }

  public Study {
    parts = List.copyOf(parts);
    appraisers = List.copyOf(appraisers);
  }

  public int measurements() {
    return parts.size() * appraisers.size() * trials;
  }
}
