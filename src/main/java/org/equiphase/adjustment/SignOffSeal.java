package org.equiphase.adjustment;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.equiphase.audit.Digest;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Work that was signed off: what was asked, from which reading, and what was really done. */
@Component
class SignOffSeal implements Seal {

  private static final String KIND = "sign-off";

  private final InstructionTables tables;

  SignOffSeal(InstructionTables tables) {
    this.tables = tables;
  }

  static SealedRow seal(Instruction instruction, Instruction.Done done) {
    return new SealedRow(KIND, instruction.id(), digest(instruction, done));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    return tables.done(ids).stream()
        .collect(
            Collectors.toMap(
                Instruction::id, instruction -> digest(instruction, instruction.done())));
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return tables.doneAfter(id, most);
  }

  private static String digest(Instruction instruction, Instruction.@Nullable Done done) {
    Digest digest =
        new Digest()
            .whole(instruction.id())
            .whole(instruction.assemblyId())
            .whole(instruction.readingId())
            .text(instruction.action().name())
            .number(instruction.trimMm())
            .number(instruction.settingMm())
            .number(instruction.slideMm())
            .text(instruction.reason())
            .whole(instruction.cableTypeId())
            .text(instruction.cableLot())
            .time(instruction.issuedAt());
    Instruction.Chance chance = instruction.chance();
    if (chance != null) {
      digest
          .number(chance.probabilityIn())
          .number(chance.probabilityTooShort())
          .text("" + chance.staged())
          .number(chance.expectedCuts());
    }
    digest.whole((long) instruction.predictions().size());
    for (Instruction.Prediction prediction : instruction.predictions()) {
      digest
          .number(prediction.frequencyHz())
          .number(prediction.targetPhaseDeg())
          .number(prediction.errorDeg())
          .number(prediction.predictedErrorDeg())
          .number(prediction.standardUncertaintyDeg());
    }
    if (done != null) {
      digest
          .time(done.at())
          .text(done.by())
          .number(done.trimMm())
          .number(done.settingMm())
          .text(done.note());
    }
    return digest.hex();
  }
}
