package org.equiphase.review;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.audit.RowIds;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.Signature;
import org.equiphase.review.Disposition.State;
import org.equiphase.review.Disposition.Terms;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

/** Decisions and their signatures: rows are added, and never changed. */
@Repository
class DispositionTables {

  private final JdbcClient jdbc;

  DispositionTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /** A decision as it stands in its row; the names of assemblies and orders are not in it. */
  record Row(
      long id,
      Kind kind,
      long assemblyId,
      @Nullable Long setId,
      @Nullable Long readingId,
      ReasonCode reasonCode,
      String text,
      @Nullable Double extraTrimMm,
      @Nullable Double tooShortLimit,
      @Nullable Long lineStretcherId,
      @Nullable Double stretcherStartMm,
      @Nullable Long otherAssemblyId,
      @Nullable String newSerial,
      String numbers,
      boolean needsSecond,
      @Nullable Long supersedesId,
      String sha256) {

    Row sealed(String sha256) {
      return new Row(
          id,
          kind,
          assemblyId,
          setId,
          readingId,
          reasonCode,
          text,
          extraTrimMm,
          tooShortLimit,
          lineStretcherId,
          stretcherStartMm,
          otherAssemblyId,
          newSerial,
          numbers,
          needsSecond,
          supersedesId,
          sha256);
    }

    Terms terms(@Nullable String otherSerial) {
      return new Terms(
          extraTrimMm, tooShortLimit, lineStretcherId, stretcherStartMm, otherSerial, newSerial);
    }
  }

  /** Stores a decision; its id is given by the database. */
  long insert(Row row) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into disposition (kind, assembly_id, matched_set_id, reading_id, reason_code,
              text, extra_trim_mm, too_short_limit, line_stretcher_id, stretcher_start_mm,
              other_assembly_id, new_serial, numbers, needs_second, supersedes_id, sha256)
            values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(row.kind.name())
        .param(row.assemblyId)
        .param(row.setId)
        .param(row.readingId)
        .param(row.reasonCode.name())
        .param(row.text)
        .param(row.extraTrimMm)
        .param(row.tooShortLimit)
        .param(row.lineStretcherId)
        .param(row.stretcherStartMm)
        .param(row.otherAssemblyId)
        .param(row.newSerial)
        .param(row.numbers)
        .param(row.needsSecond)
        .param(row.supersedesId)
        .param(row.sha256)
        .update(key, "id");
    return Objects.requireNonNull(key.getKey()).longValue();
  }

  void sign(long dispositionId, int ordinal, Signature signature) {
    jdbc.sql("insert into disposition_signature values (?, ?, ?, ?, ?, ?, ?)")
        .param(dispositionId)
        .param(ordinal)
        .param(signature.person())
        .param(signature.displayName())
        .param(signature.at().atOffset(ZoneOffset.UTC))
        .param(signature.meaning().name())
        .param(signature.text())
        .update();
  }

  void open(long dispositionId) {
    jdbc.sql("insert into disposition_open values (?)").param(dispositionId).update();
  }

  boolean close(long dispositionId) {
    return jdbc.sql("delete from disposition_open where disposition_id = ?")
            .param(dispositionId)
            .update()
        == 1;
  }

  Optional<Row> row(long id) {
    return jdbc.sql("select * from disposition where id = ?")
        .param(id)
        .query(DispositionTables::toRow)
        .optional();
  }

  List<Row> rows(List<Long> ids) {
    return ids.isEmpty()
        ? List.of()
        : jdbc.sql("select * from disposition where id in (:ids) order by id")
            .param("ids", ids)
            .query(DispositionTables::toRow)
            .list();
  }

  List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "disposition", id, most);
  }

  /** The decisions about an assembly, the oldest first. */
  List<Row> about(long assemblyId) {
    return jdbc.sql("select * from disposition where assembly_id = ? order by id")
        .param(assemblyId)
        .query(DispositionTables::toRow)
        .list();
  }

  /** Decisions about other assemblies that named this one. */
  List<Row> naming(long assemblyId) {
    return jdbc.sql("select * from disposition where other_assembly_id = ? order by id")
        .param(assemblyId)
        .query(DispositionTables::toRow)
        .list();
  }

  /** The assemblies of a set's decisions, each once. */
  List<Long> assembliesDecidedIn(long setId) {
    return jdbc.sql(
            """
            select distinct assembly_id from disposition where matched_set_id = ?
            order by assembly_id
            """)
        .param(setId)
        .query(Long.class)
        .list();
  }

  /** Members of a set with a decision that waits for its second signature. */
  List<Long> assembliesOpenIn(long setId) {
    return jdbc.sql(
            """
            select d.assembly_id from disposition_open o
            join disposition d on d.id = o.disposition_id where d.matched_set_id = ?
            """)
        .param(setId)
        .query(Long.class)
        .list();
  }

  /** Assemblies with a decision that waits for its second signature, the oldest decision first. */
  List<Long> assembliesOpen(int most) {
    return jdbc.sql(
            """
            select d.assembly_id from
              (select disposition_id from disposition_open order by disposition_id limit ?) o
            join disposition d on d.id = o.disposition_id order by d.id
            """)
        .param(most)
        .query(Long.class)
        .list();
  }

  /** How many decisions wait for their second signature. */
  long openCount() {
    return jdbc.sql("select count(*) from disposition_open").query(Long.class).single();
  }

  Map<Long, List<Signature>> signatures(List<Long> ids) {
    Map<Long, List<Signature>> signatures = new HashMap<>();
    if (!ids.isEmpty()) {
      jdbc.sql(
              """
              select * from disposition_signature where disposition_id in (:ids)
              order by disposition_id, ordinal
              """)
          .param("ids", ids)
          .query(
              row -> {
                signatures
                    .computeIfAbsent(row.getLong("disposition_id"), id -> new ArrayList<>())
                    .add(toSignature(row));
              });
    }
    return signatures;
  }

  private static Signature toSignature(ResultSet row) throws SQLException {
    return new Signature(
        row.getString("person"),
        row.getString("display_name"),
        row.getObject("signed_at", OffsetDateTime.class).toInstant(),
        Signature.Meaning.valueOf(row.getString("meaning")),
        row.getString("text"));
  }

  private static Row toRow(ResultSet row, int number) throws SQLException {
    return new Row(
        row.getLong("id"),
        Kind.valueOf(row.getString("kind")),
        row.getLong("assembly_id"),
        row.getObject("matched_set_id", Long.class),
        row.getObject("reading_id", Long.class),
        ReasonCode.valueOf(row.getString("reason_code")),
        row.getString("text"),
        row.getObject("extra_trim_mm", Double.class),
        row.getObject("too_short_limit", Double.class),
        row.getObject("line_stretcher_id", Long.class),
        row.getObject("stretcher_start_mm", Double.class),
        row.getObject("other_assembly_id", Long.class),
        row.getString("new_serial"),
        row.getString("numbers"),
        row.getBoolean("needs_second"),
        row.getObject("supersedes_id", Long.class),
        row.getString("sha256"));
  }

  /** What the signatures alone say of a decision. */
  static State signed(Row row, List<Signature> signatures) {
    if (signatures.stream().anyMatch(s -> s.meaning() == Signature.Meaning.DECLINED)) {
      return State.DECLINED;
    }
    boolean agreed = signatures.stream().anyMatch(s -> s.meaning() == Signature.Meaning.AGREED);
    return row.needsSecond && !agreed ? State.PENDING : State.IN_FORCE;
  }
}
