package org.equiphase.bench;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** What a person has in work at the benches. */
@Repository
public class OwnWork {

  private final JdbcClient jdbc;

  OwnWork(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /** The assemblies that a person had before them last, since a moment. */
  public List<Long> assemblies(String person, Instant since) {
    return jdbc.sql("select assembly_id from bench_visit where person = ? and at > ?")
        .param(person)
        .param(since.atOffset(ZoneOffset.UTC))
        .query(Long.class)
        .list();
  }

  /** How many pieces of work lie at the benches, waiting to be resumed. */
  public long laidDown() {
    return jdbc.sql("select count(*) from bench_pause where resumed_at is null")
        .query(Long.class)
        .single();
  }
}
