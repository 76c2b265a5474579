package org.equiphase.adjustment;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Instruction.Prediction;
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
    jdbc.sql(
            """
            insert into instruction (version, assembly_id, reading_id, action, trim_mm, setting_mm,
              slide_mm, reason, state, issued_at)
            values (0, ?, ?, ?, ?, ?, ?, ?, 'ISSUED', ?)
            """)
        .param(i.assemblyId())
        .param(i.readingId())
        .param(i.action().name())
        .param(i.trimMm())
        .param(i.settingMm())
        .param(i.slideMm())
        .param(i.reason())
        .param(i.issuedAt().atOffset(ZoneOffset.UTC))
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    for (int k = 0; k < i.predictions().size(); k++) {
      Prediction p = i.predictions().get(k);
      jdbc.sql("insert into instruction_prediction values (?, ?, ?, ?, ?, ?)")
          .param(id)
          .param(k)
          .param(p.frequencyHz())
          .param(p.targetPhaseDeg())
          .param(p.errorDeg())
          .param(p.predictedErrorDeg())
          .update();
    }
    return id;
  }

  Optional<Instruction> instruction(long id) {
    return jdbc.sql("select * from instruction where id = ?")
        .param(id)
        .query(this::toInstruction)
        .optional();
  }

  /** The last instruction that no other took the place of. */
  Optional<Instruction> standing(long assemblyId) {
    return jdbc.sql(
            """
            select * from instruction where assembly_id = ? and state <> 'SUPERSEDED'
            order by id desc limit 1
            """)
        .param(assemblyId)
        .query(this::toInstruction)
        .optional();
  }

  /** What was signed off on the given reading or a later one, the oldest first. */
  List<Instruction> doneSince(long assemblyId, long readingId) {
    return jdbc.sql(
            """
            select * from instruction
            where assembly_id = ? and state = 'DONE' and reading_id >= ? order by id
            """)
        .param(assemblyId)
        .param(readingId)
        .query(this::toInstruction)
        .list();
  }

  List<Instruction> history(long assemblyId) {
    return jdbc.sql("select * from instruction where assembly_id = ? order by id desc")
        .param(assemblyId)
        .query(this::toInstruction)
        .list();
  }

  void supersedeIssued(long assemblyId) {
    jdbc.sql(
            """
            update instruction set version = version + 1, state = 'SUPERSEDED'
            where assembly_id = ? and state = 'ISSUED'
            """)
        .param(assemblyId)
        .update();
  }

  boolean done(
      long id,
      int version,
      Instant at,
      String by,
      @Nullable Double trimMm,
      @Nullable Double settingMm,
      String note) {
    return jdbc.sql(
                """
                update instruction set version = version + 1, state = 'DONE', done_at = ?,
                  done_by = ?, done_trim_mm = ?, done_setting_mm = ?, done_note = ?
                where id = ? and version = ? and state = 'ISSUED'
                """)
            .param(at.atOffset(ZoneOffset.UTC))
            .param(by)
            .param(trimMm)
            .param(settingMm)
            .param(note)
            .param(id)
            .param(version)
            .update()
        == 1;
  }

  private Instruction toInstruction(ResultSet row, int number) throws SQLException {
    long id = row.getLong("id");
    return new Instruction(
        id,
        row.getInt("version"),
        row.getLong("assembly_id"),
        row.getLong("reading_id"),
        Instruction.Action.valueOf(row.getString("action")),
        row.getDouble("trim_mm"),
        row.getObject("setting_mm", Double.class),
        row.getObject("slide_mm", Double.class),
        row.getString("reason"),
        Instruction.State.valueOf(row.getString("state")),
        row.getObject("issued_at", OffsetDateTime.class).toInstant(),
        done(row),
        predictions(id));
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

  private List<Prediction> predictions(long instructionId) {
    return jdbc.sql(
            "select * from instruction_prediction where instruction_id = ? order by ordinal")
        .param(instructionId)
        .query(
            (row, n) ->
                new Prediction(
                    row.getDouble("frequency_hz"),
                    row.getDouble("target_phase_deg"),
                    row.getDouble("error_deg"),
                    row.getDouble("predicted_error_deg")))
        .list();
  }
}
