package org.equiphase.operation;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.springframework.http.HttpHeaders;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** Backups for whoever runs the service. */
@RestController
class BackupApi {

  private final Backups backups;

  BackupApi(Backups backups) {
    this.backups = backups;
  }

  /** The whole database as a ZIP file, to be restored with {@code equiphase.jar restore}. */
  @GetMapping("/api/v1/operation/backup")
  void backup(HttpServletResponse response) throws IOException {
    Path zip = backups.take();
    try {
      response.setContentType("application/zip");
      response.setContentLengthLong(Files.size(zip));
      response.setHeader(
          HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"equiphase-backup.zip\"");
      Files.copy(zip, response.getOutputStream());
    } finally {
      Files.deleteIfExists(zip);
    }
  }
}
