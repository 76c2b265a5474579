package org.equiphase.release;

import java.util.List;
import org.equiphase.release.CertifiedSet.Member;
import org.equiphase.release.CertifiedSet.Requirement;
import org.equiphase.sheet.Code128;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.DecisionRule;
import org.jspecify.annotations.Nullable;

/**
 * A certificate as it is printed: its stored data, and whether it still stands.
 *
 * @param supersededBy number of the certificate that came after it was withdrawn; null for none
 */
record CertificateSheet(
    SetRelease release, Certificate certificate, @Nullable String supersededBy) {

  private static final int SHORT_HASH = 12;

  /** What can hurt someone or ruin a part, and what to do about it. */
  record Caution(Sentence title, Sentence text) {}

  public CertifiedSet set() {
    return certificate.set();
  }

  public Code128 barcode() {
    return Code128.of(release.number() + " " + shortHash());
  }

  public String shortHash() {
    return release.sha256().substring(0, SHORT_HASH);
  }

  public Sentence method() {
    return Sentence.of("release.method." + set().requirement().method().name());
  }

  public Sentence basis() {
    return Sentence.of("release.basis." + set().requirement().basis().name());
  }

  public Sentence turns() {
    return Sentence.of("release.turns." + set().requirement().turns().name());
  }

  public Sentence rule() {
    Requirement requirement = set().requirement();
    return requirement.decisionRule() == DecisionRule.SIMPLE
        ? Sentence.of("release.rule.simple")
        : Sentence.of("release.rule.guarded", Format.PLAIN.plain(requirement.guardFactor()));
  }

  public Sentence standing(Member member) {
    if (!member.conceded()) {
      return Sentence.of("release.inTolerance");
    }
    return member.dispositionNumber() == null
        ? Sentence.of("release.conceded")
        : Sentence.of("release.concededBy", member.dispositionNumber());
  }

  public boolean hasStretchers() {
    return set().members().stream().anyMatch(m -> m.stretcher() != null);
  }

  /** The end standard and the adapters of a bench, in one sentence. */
  public Sentence between(CertifiedSet.Equipment equipment) {
    String adapters = String.join(", ", equipment.adapters());
    String end = equipment.endStandard();
    if (end == null) {
      return adapters.isEmpty() ? Sentence.of("release.noAdapters") : Sentence.said(adapters);
    }
    return adapters.isEmpty() ? Sentence.said(end) : Sentence.said(end + ", " + adapters);
  }

  public List<Caution> cautions() {
    Double torqueNm = set().subject().connectorTorqueNm();
    return List.of(
        caution(
            "release.caution.torque",
            torqueNm == null
                ? Sentence.of("release.caution.torqueOfMaker")
                : Sentence.of("release.caution.torqueGiven", Format.PLAIN.plain(torqueNm))),
        caution("release.caution.caps", Sentence.of("release.caution.capsText")),
        caution("release.caution.bend", Sentence.of("release.caution.bendText")),
        caution("release.caution.change", Sentence.of("release.caution.changeText")),
        caution("release.caution.power", Sentence.of("release.caution.powerText")),
        caution("release.caution.first", Sentence.of("release.caution.firstText")));
  }

  private static Caution caution(String titleKey, Sentence text) {
    return new Caution(Sentence.of(titleKey), text);
  }
}
