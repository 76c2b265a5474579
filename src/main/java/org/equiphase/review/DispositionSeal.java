package org.equiphase.review;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.Digest;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.DispositionTables.Row;
import org.springframework.stereotype.Component;

/** Seals decisions with their signatures; each signature seals its decision again. */
@Component
class DispositionSeal implements Seal {

  private static final String KIND = "disposition";

  private final DispositionTables tables;

  DispositionSeal(DispositionTables tables) {
    this.tables = tables;
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    List<Long> wanted = List.copyOf(ids);
    Map<Long, List<Signature>> signatures = tables.signatures(wanted);
    Map<Long, String> digests = new HashMap<>();
    for (Row row : tables.rows(wanted)) {
      digests.put(row.id(), digest(row, signatures.getOrDefault(row.id(), List.of())));
    }
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return tables.idsAfter(id, most);
  }

  SealedRow sealed(long id) {
    return new SealedRow(KIND, id, digests(List.of(id)).getOrDefault(id, ""));
  }

  private static String digest(Row row, List<Signature> signatures) {
    Digest digest =
        new Digest()
            .whole(row.id())
            .text(row.sha256())
            .text(signatures.isEmpty() ? null : content(row, signatures.get(0)));
    for (Signature each : signatures) {
      digest.text(each.person()).text(each.displayName()).time(each.at());
      digest.text(each.meaning().name()).text(each.text());
    }
    return digest.hex();
  }

  /** Over everything that was decided, and who decided it when. */
  static String content(Row row, Signature decided) {
    return new Digest()
        .text(row.kind().name())
        .whole(row.assemblyId())
        .whole(row.setId())
        .whole(row.readingId())
        .text(row.reasonCode().name())
        .text(row.text())
        .number(row.extraTrimMm())
        .number(row.tooShortLimit())
        .whole(row.lineStretcherId())
        .number(row.stretcherStartMm())
        .whole(row.otherAssemblyId())
        .text(row.newSerial())
        .text(row.numbers())
        .text(String.valueOf(row.needsSecond()))
        .whole(row.supersedesId())
        .text(decided.person())
        .time(decided.at())
        .hex();
  }
}
