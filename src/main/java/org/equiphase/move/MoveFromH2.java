package org.equiphase.move;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import javax.sql.DataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/**
 * Fills the service's empty PostgreSQL database from an H2 file, before the service is ready. The
 * check of the audit log, which follows each start, then looks at what has been moved.
 */
@Component
@ConditionalOnProperty("equiphase.move.from")
@Order(Ordered.HIGHEST_PRECEDENCE)
class MoveFromH2 implements ApplicationRunner {

  private static final Logger LOG = LoggerFactory.getLogger(MoveFromH2.class);

  private final DataSource target;
  private final Path file;
  private final String username;
  private final String password;

  /**
   * @param file of the H2 database, without its ending .mv.db
   */
  MoveFromH2(
      DataSource target,
      @Value("${equiphase.move.from}") Path file,
      @Value("${equiphase.move.username:equiphase}") String username,
      @Value("${equiphase.move.password:}") String password) {
    this.target = target;
    this.file = file;
    this.username = username;
    this.password = password;
  }

  @Override
  public void run(ApplicationArguments arguments) throws SQLException {
    String h2 =
        "jdbc:h2:file:"
            + file.toAbsolutePath().normalize()
            + ";IFEXISTS=TRUE;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE";
    try (Connection from = DriverManager.getConnection(h2, username, password);
        Connection to = target.getConnection()) {
      from.setAutoCommit(false);
      to.setAutoCommit(false);
      try {
        long rows = new DatabaseMove(from, to).move();
        to.commit();
        LOG.info("Moved {} rows from {}; take equiphase.move.from away now", rows, file);
      } finally {
        to.rollback();
        to.setAutoCommit(true);
      }
    }
  }
}
