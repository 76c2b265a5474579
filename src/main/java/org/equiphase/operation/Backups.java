package org.equiphase.operation;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Copies the embedded database while work goes on. */
@Service
class Backups {

  /** Action of the audit entry that each copy holds. */
  static final String TAKEN = "BACKUP_TAKEN";

  private final JdbcTemplate jdbc;
  private final TransactionTemplate transaction;
  private final AuditLog audit;
  private final Path folder;

  Backups(
      JdbcTemplate jdbc,
      PlatformTransactionManager transactions,
      AuditLog audit,
      @Value("${equiphase.backup-folder:${java.io.tmpdir}}") Path folder) {
    this.jdbc = jdbc;
    this.transaction = new TransactionTemplate(transactions);
    this.audit = audit;
    this.folder = folder;
  }

  /**
   * A ZIP file with the database as it is after an audit entry about this backup; the caller
   * deletes it.
   *
   * @throws ConflictException if the database is not one that the service can copy
   */
  Path take() throws IOException {
    if (!isH2File()) {
      throw new ConflictException(Sentence.of("operation.notH2File"));
    }
    // Before the copy, so that the copy proves itself by holding the entry.
    transaction.executeWithoutResult(status -> audit.record(TAKEN, "database", "whole", Map.of()));
    Files.createDirectories(folder);
    Path zip = Files.createTempFile(folder, "equiphase-backup", ".zip");
    try {
      jdbc.update("backup to ?", zip.toString());
    } catch (RuntimeException e) {
      Files.deleteIfExists(zip);
      throw e;
    }
    return zip;
  }

  private boolean isH2File() {
    return Boolean.TRUE.equals(
        jdbc.execute(
            (ConnectionCallback<Boolean>)
                connection ->
                    connection.getMetaData().getDatabaseProductName().equals("H2")
                        && !connection.getMetaData().getURL().startsWith("jdbc:h2:mem:")));
  }
}
