package org.equiphase.operation;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.equiphase.audit.AuditEntry;
import org.equiphase.audit.AuditLog;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.equiphase.audit.EntryFilter;
import org.springframework.context.ConfigurableApplicationContext;

/** Restores a backup from the command line and checks what it holds. */
public final class RestoreCommand {

  static final String USAGE =
      """
      java -jar equiphase.jar restore BACKUP.zip [DATABASE]

        BACKUP.zip  what /api/v1/operation/backup gave
        DATABASE    the database to make, without .mv.db; data/equiphase if not given
      """;

  private static final String SUFFIX = ".mv.db";
  private static final int FAILED = 1;
  private static final int BAD_ARGUMENTS = 2;

  private RestoreCommand() {}

  /**
   * Writes the database of a backup and starts the service on it, reachable by nobody, to check it.
   *
   * @param arguments those after the word that chose this command
   * @param start starts the service with these settings
   * @return the exit status: 0 restored and whole, 1 not, 2 bad arguments
   */
  public static int run(
      List<String> arguments,
      PrintStream out,
      Function<Map<String, String>, ConfigurableApplicationContext> start) {
    if (arguments.isEmpty() || arguments.size() > 2 || arguments.get(0).startsWith("-")) {
      out.print(USAGE);
      return BAD_ARGUMENTS;
    }
    Path backup = Path.of(arguments.get(0));
    Path database =
        Path.of(arguments.size() == 2 ? arguments.get(1) : "data/equiphase").toAbsolutePath();
    Path file = database.resolveSibling(database.getFileName() + SUFFIX);
    if (Files.exists(file)) {
      out.println(file + " exists and is left as it is: name another, or move it away first");
      return BAD_ARGUMENTS;
    }
    try {
      unpack(backup, file);
    } catch (IOException e) {
      out.println(backup + " could not be restored: " + e.getMessage());
      return FAILED;
    }
    return check(database, out, start) ? 0 : FAILED;
  }

  private static void unpack(Path backup, Path file) throws IOException {
    try (InputStream in = Files.newInputStream(backup);
        ZipInputStream zip = new ZipInputStream(in)) {
      ZipEntry entry = zip.getNextEntry();
      while (entry != null && !entry.getName().endsWith(SUFFIX)) {
        entry = zip.getNextEntry();
      }
      if (entry == null) {
        throw new IOException("it is no ZIP file with a database in it");
      }
      Files.createDirectories(file.getParent());
      Path part = file.resolveSibling(file.getFileName() + ".part");
      Files.copy(zip, part);
      Files.move(part, file);
    }
  }

  private static boolean check(
      Path database,
      PrintStream out,
      Function<Map<String, String>, ConfigurableApplicationContext> start) {
    Map<String, String> settings =
        Map.of(
            "spring.datasource.url",
            "jdbc:h2:file:"
                + database
                + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH"
                + ";WRITE_DELAY=0",
            "server.address",
            "127.0.0.1",
            "server.port",
            "0",
            "spring.main.banner-mode",
            "off",
            "logging.level.root",
            "warn");
    try (ConfigurableApplicationContext service = start.apply(settings)) {
      ChainCheck check = service.getBean(ChainChecker.class).check();
      List<AuditEntry> taken =
          service
              .getBean(AuditLog.class)
              .entries(new EntryFilter(null, Backups.TAKEN, null, null, null, null, null), null, 1);
      out.println("Restored to " + database + SUFFIX);
      taken.forEach(
          entry ->
              out.println(
                  "Backup of %s by %s, entry %d of the audit log"
                      .formatted(entry.at(), entry.actor(), entry.id())));
      out.println(
          "%d audit entries and %d sealed rows; end of the chain %s"
              .formatted(check.entries(), check.sealedRows(), check.end()));
      check.links().forEach(link -> out.println("Broken: " + link.what()));
      check.seals().forEach(seal -> out.println("Broken: " + seal.what()));
      if (taken.isEmpty()) {
        out.println("Broken: the audit log tells of no backup");
      }
      boolean whole = check.isIntact() && !taken.isEmpty();
      out.println(whole ? "All is as it was written." : "NOT as it was written, see above.");
      return whole;
    }
  }
}
