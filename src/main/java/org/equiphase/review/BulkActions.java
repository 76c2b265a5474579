package org.equiphase.review;

import static org.equiphase.web.Require.present;

import java.time.Instant;
import java.util.List;
import java.util.Objects;
import org.equiphase.account.Person;
import org.equiphase.account.Signing;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.State;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Does one thing to many assemblies of the queue: to all of them, or to none. */
@Service
class BulkActions {

  static final int MOST = 100;
  private static final int LONGEST_REASON = 500;

  private final Holds holds;
  private final Dispositions dispositions;
  private final WorkOrders workOrders;
  private final Readings readings;
  private final Signing signing;

  BulkActions(
      Holds holds,
      Dispositions dispositions,
      WorkOrders workOrders,
      Readings readings,
      Signing signing) {
    this.holds = holds;
    this.dispositions = dispositions;
    this.workOrders = workOrders;
    this.readings = readings;
    this.signing = signing;
  }

  enum Action {
    HOLD,
    RELEASE,
    /** A decision for each, signed with one password. */
    REMEASURE
  }

  /**
   * What to do, and why.
   *
   * @param reasonCode for new readings
   * @param seenAt when the sender looked; what was measured since is refused a new reading
   */
  record Bulk(
      @Nullable Action action,
      @Nullable List<String> serials,
      @Nullable String reason,
      @Nullable ReasonCode reasonCode,
      @Nullable Instant seenAt) {

    /** Each once: an assembly stands in the queue with each of its findings. */
    public List<String> distinct() {
      return serials == null
          ? List.of()
          : serials.stream()
              .filter(Objects::nonNull)
              .map(String::strip)
              .filter(serial -> !serial.isEmpty())
              .distinct()
              .toList();
    }
  }

  /**
   * The serials that it was done to.
   *
   * @param password of the signer, for new readings
   * @throws ConflictException that names the first one that it can't be done to
   */
  @Transactional
  List<String> act(Bulk bulk, @Nullable String password) {
    List<String> serials = checked(bulk);
    Action action = present("action", bulk.action);
    Person signer =
        action == Action.REMEASURE ? signing.confirm(present("password", password)) : null;
    lockSets(serials);
    for (String serial : serials) {
      try {
        act(action, serial, bulk, signer);
      } catch (ConflictException e) {
        throw new ConflictException(Sentence.of("queue.bulkRow", serial, e.words()));
      }
    }
    return serials;
  }

  private static List<String> checked(Bulk bulk) {
    Checks checks = new Checks().text("reason", bulk.reason, LONGEST_REASON);
    List<String> serials = bulk.distinct();
    if (serials.isEmpty() || serials.size() > MOST) {
      checks.problem("serials", Sentence.of("queue.bulkCount", serials.size(), MOST));
    }
    if (bulk.action == null) {
      checks.problem("action", Sentence.of("problem.missingInRequest"));
    }
    if (bulk.action == Action.REMEASURE && bulk.reasonCode == null) {
      checks.problem("reasonCode", Sentence.of("problem.missingInRequest"));
    }
    checks.done();
    return serials;
  }

  /** In one order for everyone, so that two at once don't wait for each other. */
  private void lockSets(List<String> serials) {
    serials.stream()
        .map(workOrders::assemblyBySerial)
        .map(Assembly::setId)
        .filter(Objects::nonNull)
        .distinct()
        .sorted()
        .forEach(workOrders::lockSet);
  }

  private void act(Action action, String serial, Bulk bulk, @Nullable Person signer) {
    String reason = present("reason", bulk.reason).strip();
    switch (action) {
      case HOLD -> {
        Assembly assembly = workOrders.assemblyBySerial(serial);
        if (assembly.heldBy() != null) {
          throw new ConflictException(Sentence.of("queue.bulkHeld", assembly.stateReason()));
        }
        holds.hold(serial, reason);
      }
      case RELEASE -> holds.release(serial, reason);
      case REMEASURE -> remeasure(serial, bulk, reason, Objects.requireNonNull(signer));
    }
  }

  private void remeasure(String serial, Bulk bulk, String reason, Person signer) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    boolean waits =
        dispositions.of(assembly.id()).stream().anyMatch(d -> d.state() == State.PENDING);
    if (waits) {
      throw new ConflictException(Sentence.of("disposition.waitsForSecond", serial));
    }
    Reading latest = readings.latest(assembly.id()).orElse(null);
    Instant seenAt = bulk.seenAt;
    if (latest != null && seenAt != null && latest.recordedAt().isAfter(seenAt)) {
      throw new ConflictException(Sentence.of("disposition.newerReading", serial));
    }
    dispositions.decide(
        DispositionDraft.plain(
            Kind.REMEASURE,
            serial,
            latest == null ? null : latest.id(),
            present("reasonCode", bulk.reasonCode),
            reason),
        signer);
  }
}
