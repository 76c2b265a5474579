package org.equiphase.process;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Transactional;

/**
 * How many cuts assemblies took until it was decided about them, from the facts of the past year:
 * one FIRST_PASS for each decided assembly, one CUT_ERROR for each cut whose effect was measured.
 */
@Repository
@Transactional(readOnly = true)
public class CutHistory {

  private static final Duration REACH = Duration.ofDays(365);

  /** More tell no more about the next ones, and a year of a busy shop takes seconds to count. */
  private static final int MOST_OF_TYPE = 1000;

  private static final String LATEST =
      "cable_type_id = :type order by at desc, id desc limit :most";

  private static final String SELECT =
      """
      select cable_type_id, %s, count(*) decided, sum(cuts) cuts, sum(cuts * cuts) squares,
        sum(case when cuts > 0 then 1 else 0 end) cut
      from (
        select v.cable_type_id, v.lot, (
          select count(*) from process_value c
          where c.assembly_id = v.assembly_id and c.series_id in (
            select id from process_series where characteristic = 'CUT_ERROR')) cuts
        from (
          select assembly_id, cable_type_id, lot from process_value
          where series_id in (select id from process_series where characteristic = 'FIRST_PASS')
            and at > :since and %s) v) decided
      group by cable_type_id%s
      """;

  private final JdbcClient jdbc;
  private final Clock clock;

  CutHistory(JdbcClient jdbc, Clock clock) {
    this.jdbc = jdbc;
    this.clock = clock;
  }

  /** A lot of a cable type, as the process knows it. */
  public record Lot(long cableTypeId, String lot) {}

  /**
   * What decided assemblies took.
   *
   * @param decided number of assemblies
   * @param cut how many of them were cut at all
   * @param cuts all their cuts
   * @param squares sum of the squares of each assembly's cuts
   */
  public record Taken(int decided, int cut, long cuts, long squares) {

    /** Cuts per assembly. */
    public double mean() {
      return (double) cuts / decided;
    }

    /** Sample variance of the cuts per assembly; 0 for fewer than two. */
    public double variance() {
      return variance(decided);
    }

    /** Cuts per assembly that was cut; 1 while none was. */
    public double meanOfCut() {
      return cut == 0 ? 1 : (double) cuts / cut;
    }

    /** Its sample variance; those not cut add nothing to either sum. */
    public double varianceOfCut() {
      return variance(cut);
    }

    private double variance(int count) {
      return count < 2 ? 0 : Math.max(0, (squares - (double) cuts * cuts / count) / (count - 1));
    }
  }

  /** By lot; those without a decided assembly are left out. */
  public Map<Lot, Taken> ofLots(Collection<Lot> lots) {
    Map<Lot, Taken> taken = new HashMap<>();
    if (!lots.isEmpty()) {
      jdbc.sql(SELECT.formatted("lot", "lot in (:lots)", ", lot"))
          .param("since", since())
          .param("lots", lots.stream().map(Lot::lot).distinct().toList())
          .query(
              row -> {
                taken.put(
                    new Lot(row.getLong("cable_type_id"), row.getString("lot")), toTaken(row));
              });
    }
    return taken;
  }

  /** By cable type, of the latest assemblies of all its lots. */
  public Map<Long, Taken> ofCableTypes(Collection<Long> cableTypeIds) {
    Map<Long, Taken> taken = new HashMap<>();
    for (long id : cableTypeIds) {
      jdbc.sql(SELECT.formatted("max(lot) lot", LATEST, ""))
          .param("since", since())
          .param("type", id)
          .param("most", MOST_OF_TYPE)
          .query(
              row -> {
                taken.put(id, toTaken(row));
              });
    }
    return taken;
  }

  private OffsetDateTime since() {
    return clock.instant().minus(REACH).atOffset(ZoneOffset.UTC);
  }

  private static Taken toTaken(ResultSet row) throws SQLException {
    return new Taken(
        row.getInt("decided"), row.getInt("cut"), row.getLong("cuts"), row.getLong("squares"));
  }
}
