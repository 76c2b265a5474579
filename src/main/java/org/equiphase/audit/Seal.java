package org.equiphase.audit;

import java.util.Collection;
import java.util.List;
import java.util.Map;

/**
 * Rows of a feature that are sealed in the audit log, so that a change behind the service's back is
 * found. The feature gives a row's digest to {@link AuditLog#record} in the transaction that writes
 * the row, and offers a bean of this kind; the check of the chain then compares the two. Where a
 * row is sealed again, the last seal counts.
 */
public interface Seal {

  /** What such a row is, in lower case and unlike all others, e.g. "reading". */
  String kind();

  /** The digests of the rows as they are now; rows that are gone are left out. */
  Map<Long, String> digests(Collection<Long> ids);

  /** Ids of the rows that must be sealed, in ascending order: the next ones after an id. */
  List<Long> idsAfter(long id, int most);
}
