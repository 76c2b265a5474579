package org.equiphase.release;

import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.account.Person;
import org.equiphase.account.Signing;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.audit.AuditLog;
import org.equiphase.release.Certificate.ChainEnd;
import org.equiphase.release.Certificate.Signature;
import org.equiphase.release.SetRelease.Withdrawal;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Releases sets, with a signature and a certificate, and takes releases back. */
@Service
public class Releases {

  private static final int MOST_FOUND = 100;
  private static final int MOST_HINDRANCES_TOLD = 3;

  private final ReleaseTables tables;
  private final Hindrances hindrances;
  private final SetCertifier certifier;
  private final Adjustments adjustments;
  private final WorkOrders workOrders;
  private final Signing signing;
  private final AuditLog audit;
  private final Clock clock;

  Releases(
      ReleaseTables tables,
      Hindrances hindrances,
      SetCertifier certifier,
      Adjustments adjustments,
      WorkOrders workOrders,
      Signing signing,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.hindrances = hindrances;
    this.certifier = certifier;
    this.adjustments = adjustments;
    this.workOrders = workOrders;
    this.signing = signing;
    this.audit = audit;
    this.clock = clock;
  }

  /**
   * A set before its release.
   *
   * @param hindrances what stands against it; empty when it can be released
   * @param certified what the certificate would say
   * @param sha256 of that, so that a signer signs what was shown
   */
  public record Outlook(
      MatchedSet set, List<Hindrance> hindrances, CertifiedSet certified, String sha256) {

    public Outlook {
      hindrances = List.copyOf(hindrances);
    }
  }

  @Transactional(readOnly = true)
  public Outlook outlook(long setId) {
    return outlook(adjustments.plan(setId));
  }

  private Outlook outlook(SetPlan plan) {
    CertifiedSet certified = certifier.certified(plan);
    return new Outlook(
        plan.set(),
        hindrances.of(plan),
        certified,
        CanonicalJson.sha256(CanonicalJson.write(certified)));
  }

  /** The release. */
  @Transactional(readOnly = true)
  public SetRelease release(long id) {
    return tables.release(id).orElseThrow(() -> new NotFoundException("release", id));
  }

  /** All releases of a set, withdrawn ones too, the newest first. */
  @Transactional(readOnly = true)
  public List<SetRelease> ofSet(long setId) {
    return tables.ofSet(setId);
  }

  /** Releases by a part of the certificate's or the order's number, the newest first. */
  @Transactional(readOnly = true)
  public List<SetRelease> find(String part) {
    return tables.find(part.strip(), MOST_FOUND);
  }

  /**
   * Releases a set under the signature of whoever is signed in.
   *
   * @param seenSha256 hash of what the signer was shown; null where nothing was
   */
  @Transactional
  public SetRelease release(
      long setId, String password, String remark, @Nullable String seenSha256) {
    checkRemark(remark);
    Person signer = signing.confirm(password);
    MatchedSet set = workOrders.lockSet(setId);
    Outlook outlook = outlook(adjustments.plan(setId));
    refuseHindered(set, outlook.hindrances());
    if (seenSha256 != null && !seenSha256.equals(outlook.sha256())) {
      throw new ConflictException(Sentence.of("release.numbersChanged", set.name()));
    }
    Certificate certificate =
        new Certificate(
            "CM-" + setId + "-" + (tables.ofSet(setId).size() + 1),
            outlook.certified(),
            new Signature(
                signer.username(),
                signer.displayName(),
                clock.instant().truncatedTo(ChronoUnit.MICROS),
                remark.strip()),
            chainEnd());
    String snapshot = CanonicalJson.write(certificate);
    String sha256 = CanonicalJson.sha256(snapshot);
    long id = tables.insert(certificate, snapshot, sha256);
    workOrders.release(set);
    audit.record(
        "SET_RELEASED",
        "release",
        certificate.number(),
        Map.of(
            "order",
            certificate.set().subject().orderNumber(),
            "set",
            set.id() + " " + set.name(),
            "sha256",
            sha256),
        ReleaseSeal.seal(release(id)));
    adjustments.planAgain(setId);
    return release(id);
  }

  /** Takes a release back: the set is open again, and the certificate stays on record. */
  @Transactional
  public SetRelease withdraw(long id, String password, String reason) {
    new Checks().text("reason", reason, 500).done();
    Person signer = signing.confirm(password);
    SetRelease release = release(id);
    MatchedSet set = workOrders.lockSet(release.setId());
    release = release(id);
    if (release.withdrawal() != null) {
      throw new ConflictException(Sentence.of("release.withdrawnAlready", release.number()));
    }
    tables.withdraw(
        id,
        new Withdrawal(
            clock.instant().truncatedTo(ChronoUnit.MICROS), signer.username(), reason.strip()));
    workOrders.withdrawRelease(set);
    audit.record(
        "RELEASE_WITHDRAWN",
        "release",
        release.number(),
        Map.of("reason", reason.strip()),
        WithdrawalSeal.seal(release(id)));
    adjustments.planAgain(set.id());
    return release(id);
  }

  /** Computes the hash of a release anew and compares its data with the rows behind it. */
  @Transactional(readOnly = true)
  public ReleaseCheck check(long id) {
    SetRelease release = release(id);
    String computed = CanonicalJson.sha256(release.snapshot());
    Certificate certificate = release.certificate();
    boolean agrees =
        certificate.number().equals(release.number())
            && certificate.set().subject().setId() == release.setId()
            && certificate.signature().username().equals(release.releasedBy())
            && certificate.signature().at().equals(release.releasedAt());
    CertifiedSet now = certifier.certified(adjustments.plan(release.setId()));
    return new ReleaseCheck(
        computed,
        agrees && computed.equals(release.sha256()),
        JsonDifferences.between(
            Objects.requireNonNull(CanonicalJson.tree(release.snapshot()).get("set")),
            CanonicalJson.tree(CanonicalJson.write(now))));
  }

  private ChainEnd chainEnd() {
    var end = audit.end();
    return new ChainEnd(end.id(), end.hash());
  }

  private static void checkRemark(String remark) {
    if (remark.length() > 500) {
      new Checks().text("remark", remark, 500).done();
    }
  }

  private static void refuseHindered(MatchedSet set, List<Hindrance> hindrances) {
    if (!hindrances.isEmpty()) {
      Sentence why =
          hindrances.stream()
              .limit(MOST_HINDRANCES_TOLD)
              .map(Hindrance::text)
              .reduce((one, next) -> Sentence.of("release.also", one, next))
              .orElseThrow();
      throw new ConflictException(
          Sentence.of("release.hindered", set.name(), hindrances.size(), why));
    }
  }
}
