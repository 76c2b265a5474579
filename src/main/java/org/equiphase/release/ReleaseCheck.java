package org.equiphase.release;

import java.util.List;

/**
 * What a check of a release found.
 *
 * @param computedSha256 of the stored data, computed now
 * @param hashGood whether that is the hash on the certificate, and the certificate's own fields
 *     agree with its row
 * @param differences where the rows behind it say something else now
 */
public record ReleaseCheck(String computedSha256, boolean hashGood, List<Difference> differences) {

  public ReleaseCheck {
    differences = List.copyOf(differences);
  }

  public boolean isIntact() {
    return hashGood && differences.isEmpty();
  }

  /** One value; {@code where} names it as the data does, from the outside in. */
  public record Difference(String where, String certified, String now) {}
}
