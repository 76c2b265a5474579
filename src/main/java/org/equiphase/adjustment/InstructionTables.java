package org.equiphase.adjustment;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Instruction.Prediction;
import org.equiphase.audit.RowIds;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

@Repository
class InstructionTables {

  private final JdbcClient jdbc;

  InstructionTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(Instruction i) {
    KeyHolder key = new GeneratedKeyHolder();
    Instruction.Chance chance = i.chance();
    jdbc.sql(
            """
            insert into instruction (version, assembly_id, reading_id, action, trim_mm, setting_mm,
              slide_mm, reason, cable_type_id, cable_lot, probability_in, probability_too_short,
              staged, expected_cuts, state, issued_at)
            values (0, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 'ISSUED', ?)
            """)
        .param(i.assemblyId())
        .param(i.readingId())
        .param(i.action().name())
        .param(i.trimMm())
        .param(i.settingMm())
        .param(i.slideMm())
        .param(i.reason())
        .param(i.cableTypeId())
        .param(i.cableLot())
        .param(chance == null ? null : chance.probabilityIn())
        .param(chance == null ? null : chance.probabilityTooShort())
        .param(chance != null && chance.staged())
        .param(chance == null ? null : chance.expectedCuts())
        .param(i.issuedAt().atOffset(ZoneOffset.UTC))
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    for (int k = 0; k < i.predictions().size(); k++) {
      Prediction p = i.predictions().get(k);
      jdbc.sql(
              """
              insert into instruction_prediction (instruction_id, ordinal, frequency_hz,
                target_phase_deg, error_deg, predicted_error_deg, standard_uncertainty_deg)
              values (?, ?, ?, ?, ?, ?, ?)
              """)
          .param(id)
          .param(k)
          .param(p.frequencyHz())
          .param(p.targetPhaseDeg())
          .param(p.errorDeg())
          .param(p.predictedErrorDeg())
          .param(p.standardUncertaintyDeg())
          .update();
    }
    return id;
  }

  Optional<Instruction> instruction(long id) {
    return instructions(jdbc.sql("select * from instruction where id = ?").param(id)).stream()
        .findFirst();
  }

  /** Those of the instructions that are signed off. */
  List<Instruction> done(Collection<Long> ids) {
    return instructions(
        jdbc.sql("select * from instruction where id in (:ids) and state = 'DONE'")
            .param("ids", ids));
  }

  /** Ids of instructions signed off, in ascending order: the next ones after an id. */
  List<Long> doneAfter(long id, int most) {
    return RowIds.after(jdbc, "id", "instruction", "state = 'DONE'", id, most);
  }

  /** All instructions of several assemblies, the oldest first. */
  List<Instruction> of(List<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : instructions(
            jdbc.sql("select * from instruction where assembly_id in (:ids) order by id")
                .param("ids", assemblyIds));
  }

  /** The last cuts signed off on cable of a lot, the oldest first. */
  List<Instruction> doneCuts(long cableTypeId, String cableLot, int most) {
    List<Instruction> newestFirst =
        instructions(
            jdbc.sql(
                    """
                    select * from instruction
                    where cable_type_id = ? and cable_lot = ? and state = 'DONE' and action = 'TRIM'
                    order by id desc limit ?
                    """)
                .param(cableTypeId)
                .param(cableLot)
                .param(most));
    List<Instruction> oldestFirst = new ArrayList<>(newestFirst);
    Collections.reverse(oldestFirst);
    return oldestFirst;
  }

  List<Instruction> history(long assemblyId) {
    return instructions(
        jdbc.sql("select * from instruction where assembly_id = ? order by id desc")
            .param(assemblyId));
  }

  /** Takes back what is asked of these assemblies. */
  void supersedeIssued(List<Long> assemblyIds) {
    if (!assemblyIds.isEmpty()) {
      jdbc.sql(
              """
              update instruction set version = version + 1, state = 'SUPERSEDED'
              where assembly_id in (:ids) and state = 'ISSUED'
              """)
          .param("ids", assemblyIds)
          .update();
    }
  }

  boolean done(long id, int version, Instruction.Done done) {
    return jdbc.sql(
                """
                update instruction set version = version + 1, state = 'DONE', done_at = ?,
                  done_by = ?, done_trim_mm = ?, done_setting_mm = ?, done_note = ?
                where id = ? and version = ? and state = 'ISSUED'
                """)
            .param(done.at().atOffset(ZoneOffset.UTC))
            .param(done.by())
            .param(done.trimMm())
            .param(done.settingMm())
            .param(done.note())
            .param(id)
            .param(version)
            .update()
        == 1;
  }

  /** Two queries, however many instructions there are. */
  private List<Instruction> instructions(JdbcClient.StatementSpec statement) {
    List<Instruction> bare = statement.query((row, n) -> toInstruction(row)).list();
    if (bare.isEmpty()) {
      return bare;
    }
    Map<Long, List<Prediction>> predictions = new HashMap<>();
    jdbc.sql(
            """
            select * from instruction_prediction where instruction_id in (:ids)
            order by instruction_id, ordinal
            """)
        .param("ids", bare.stream().map(Instruction::id).toList())
        .query(
            row -> {
              predictions
                  .computeIfAbsent(row.getLong("instruction_id"), id -> new ArrayList<>())
                  .add(toPrediction(row));
            });
    return bare.stream()
        .map(i -> i.withPredictions(predictions.getOrDefault(i.id(), List.of())))
        .toList();
  }

  private static Instruction toInstruction(ResultSet row) throws SQLException {
    return new Instruction(
        row.getLong("id"),
        row.getInt("version"),
        row.getLong("assembly_id"),
        row.getLong("reading_id"),
        Instruction.Action.valueOf(row.getString("action")),
        row.getDouble("trim_mm"),
        row.getObject("setting_mm", Double.class),
        row.getObject("slide_mm", Double.class),
        row.getString("reason"),
        row.getLong("cable_type_id"),
        row.getString("cable_lot"),
        chance(row),
        Instruction.State.valueOf(row.getString("state")),
        row.getObject("issued_at", OffsetDateTime.class).toInstant(),
        done(row),
        List.of());
  }

  private static Instruction.@Nullable Chance chance(ResultSet row) throws SQLException {
    Double probabilityIn = row.getObject("probability_in", Double.class);
    return probabilityIn == null
        ? null
        : new Instruction.Chance(
            probabilityIn,
            row.getDouble("probability_too_short"),
            row.getBoolean("staged"),
            row.getDouble("expected_cuts"));
  }

  private static Instruction.@Nullable Done done(ResultSet row) throws SQLException {
    OffsetDateTime at = row.getObject("done_at", OffsetDateTime.class);
    return at == null
        ? null
        : new Instruction.Done(
            at.toInstant(),
            row.getString("done_by"),
            row.getObject("done_trim_mm", Double.class),
            row.getObject("done_setting_mm", Double.class),
            row.getString("done_note"));
  }

  private static Prediction toPrediction(ResultSet row) throws SQLException {
    return new Prediction(
        row.getDouble("frequency_hz"),
        row.getDouble("target_phase_deg"),
        row.getDouble("error_deg"),
        row.getDouble("predicted_error_deg"),
        row.getObject("standard_uncertainty_deg", Double.class));
  }
}
