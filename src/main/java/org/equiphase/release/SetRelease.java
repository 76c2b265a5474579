package org.equiphase.release;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The release of a set, as it is on record.
 *
 * @param snapshot the certificate as canonical JSON, and sha256 the hash of that text
 * @param auditId and auditHash: where the audit chain ended at that time
 * @param supersededById the set's next release; null where there is none
 */
public record SetRelease(
    long id,
    long setId,
    String number,
    String orderNumber,
    String orderRevision,
    String setName,
    Instant releasedAt,
    String releasedBy,
    @JsonIgnore String snapshot,
    String sha256,
    long auditId,
    String auditHash,
    @Nullable Withdrawal withdrawal,
    @Nullable Long supersededById) {

  /** Who took the release back, and why. */
  public record Withdrawal(Instant at, String by, String reason) {}

  public Certificate certificate() {
    return CanonicalJson.read(snapshot, Certificate.class);
  }
}
