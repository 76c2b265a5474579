package org.equiphase.release;

import java.util.List;
import java.util.Objects;
import org.equiphase.release.CertifiedSet.Concession;
import org.equiphase.release.CertifiedSet.Signer;
import org.equiphase.review.Disposition;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.State;
import org.equiphase.review.Dispositions;
import org.equiphase.workorder.Assembly;
import org.springframework.stereotype.Component;

/** What QA's dispositions mean for a release. */
@Component
class Concessions {

  private final Dispositions dispositions;

  Concessions(Dispositions dispositions) {
    this.dispositions = dispositions;
  }

  /** The concession in force for an assembly's reading; empty where there is none. */
  List<Concession> of(Assembly assembly) {
    return dispositions.of(assembly.id()).stream()
        .filter(d -> d.kind() == Kind.CONCESSION && d.state() == State.IN_FORCE)
        .filter(d -> d.assemblyId() == assembly.id())
        .filter(d -> Objects.equals(d.readingId(), assembly.terms().concededReadingId()))
        .limit(1)
        .map(Concessions::concession)
        .toList();
  }

  private static Concession concession(Disposition disposition) {
    return new Concession(
        "" + disposition.id(),
        disposition.serial(),
        disposition.text(),
        disposition.signatures().stream().map(s -> new Signer(s.displayName(), s.at())).toList());
  }

  /** Ids of decisions about an assembly that wait for a second signature. */
  List<Long> pending(Assembly assembly) {
    return dispositions.of(assembly.id()).stream()
        .filter(d -> d.state() == State.PENDING)
        .map(Disposition::id)
        .toList();
  }
}
