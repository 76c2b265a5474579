package org.equiphase.measurement;

import static org.equiphase.web.Require.present;

import java.io.IOException;
import java.net.URI;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Uploaded Touchstone and CSV files for machine clients. */
@RestController
@RequestMapping("/api/v1/files")
class SweepFileApi {

  private final SweepFiles files;
  private final BenchFiles benchFiles;

  SweepFileApi(SweepFiles files, BenchFiles benchFiles) {
    this.files = files;
    this.benchFiles = benchFiles;
  }

  record ConfirmRequest(
      @Nullable Integer version,
      @Nullable String serial,
      @Nullable Long benchId,
      @Nullable Double temperatureC,
      @Nullable Instant takenAt) {}

  record DiscardRequest(@Nullable Integer version, @Nullable String reason) {}

  /** Files that wait for a person. */
  @GetMapping
  List<SweepFile> waiting() {
    return files.waiting();
  }

  @GetMapping("/{id}")
  SweepFile file(@PathVariable long id) {
    return files.file(id);
  }

  /** Uploads files, many at once; what each would be recorded as stands in the answer. */
  @PostMapping(consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  @ResponseStatus(HttpStatus.CREATED)
  List<SweepFile> upload(@RequestPart("file") List<MultipartFile> uploaded) throws IOException {
    List<SweepFile> kept = new ArrayList<>();
    for (MultipartFile file : uploaded) {
      String name = file.getOriginalFilename();
      kept.add(files.upload(name == null ? "" : name, file.getBytes()));
    }
    return kept;
  }

  /**
   * Takes a file that a bench sends by itself. It is recorded at once if it or its name points to a
   * known assembly (201); if it has been before, no second reading is made (200); what is in doubt
   * waits for a person (202). A file that will never do is refused with 422; 400 means that the
   * request lacks something, 404 that there is no such bench.
   */
  @PostMapping(path = "/recorded", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  ResponseEntity<FileOutcome> take(
      @RequestPart MultipartFile file,
      @RequestParam long benchId,
      @RequestParam(required = false) @Nullable Double temperatureC,
      @RequestParam(required = false) @Nullable Instant takenAt)
      throws IOException {
    String name = file.getOriginalFilename();
    FileOutcome outcome =
        benchFiles.take(name == null ? "" : name, file.getBytes(), benchId, temperatureC, takenAt);
    return switch (outcome.outcome()) {
      case RECORDED ->
          ResponseEntity.created(URI.create("/api/v1/readings/" + outcome.readingId()))
              .body(outcome);
      case RECORDED_BEFORE -> ResponseEntity.ok(outcome);
      case WAITING ->
          ResponseEntity.accepted()
              .header(HttpHeaders.LOCATION, "/api/v1/files/" + outcome.fileId())
              .body(outcome);
    };
  }

  @PostMapping("/{id}/confirm")
  SweepFile confirm(@PathVariable long id, @RequestBody ConfirmRequest request) {
    return files.confirm(
        id,
        present("version", request.version),
        present("serial", request.serial),
        present("benchId", request.benchId),
        present("temperatureC", request.temperatureC),
        request.takenAt);
  }

  @PostMapping("/{id}/discard")
  SweepFile discard(@PathVariable long id, @RequestBody DiscardRequest request) {
    return files.discard(
        id, present("version", request.version), present("reason", request.reason));
  }
}
