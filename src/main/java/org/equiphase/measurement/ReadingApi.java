package org.equiphase.measurement;

import static org.equiphase.web.Require.present;

import java.io.IOException;
import java.net.URI;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.rf.Method;
import org.equiphase.web.NotFoundException;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Readings for machine clients. */
@RestController
@RequestMapping("/api/v1/readings")
class ReadingApi {

  private final Readings readings;
  private final SweepFiles files;
  private final WorkOrders workOrders;

  ReadingApi(Readings readings, SweepFiles files, WorkOrders workOrders) {
    this.readings = readings;
    this.files = files;
    this.workOrders = workOrders;
  }

  record SpotRequest(
      @Nullable Double frequencyHz,
      @Nullable Double phaseDeg,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {}

  record ReadingRequest(
      @Nullable String serial,
      @Nullable Long benchId,
      @Nullable Method method,
      @Nullable Double temperatureC,
      @Nullable Instant takenAt,
      @Nullable List<SpotRequest> spots) {}

  record VoidRequest(@Nullable String reason) {}

  /** All readings of an assembly, voided ones too, the newest first. */
  @GetMapping
  List<Reading> history(@RequestParam String serial) {
    return readings.history(workOrders.assemblyBySerial(serial).id());
  }

  @GetMapping("/{id}")
  Reading reading(@PathVariable long id) {
    return readings.reading(id);
  }

  @GetMapping("/{id}/sweep")
  StoredSweep sweep(@PathVariable long id) {
    return readings
        .sweep(readings.reading(id).id())
        .orElseThrow(() -> new NotFoundException("sweep of reading", id));
  }

  @PostMapping
  ResponseEntity<Reading> record(@RequestBody ReadingRequest request) {
    List<TypedSpot> spots = new ArrayList<>();
    List<SpotRequest> sent = present("spots", request.spots);
    for (int i = 0; i < sent.size(); i++) {
      String at = "spots[" + i + "]";
      SpotRequest spot = present(at, sent.get(i));
      spots.add(
          new TypedSpot(
              present(at + ".frequencyHz", spot.frequencyHz),
              present(at + ".phaseDeg", spot.phaseDeg),
              spot.insertionLossDb,
              spot.vswr));
    }
    return created(
        readings.record(
            new TypedReading(
                present("serial", request.serial),
                present("benchId", request.benchId),
                request.method,
                present("temperatureC", request.temperatureC),
                request.takenAt,
                spots)));
  }

  /** Records a Touchstone or CSV file as a reading. */
  @PostMapping(path = "/sweeps", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
  ResponseEntity<Reading> recordSweep(
      @RequestPart MultipartFile file,
      @RequestParam String serial,
      @RequestParam long benchId,
      @RequestParam double temperatureC,
      @RequestParam(required = false) @Nullable Instant takenAt)
      throws IOException {
    String name = file.getOriginalFilename();
    return created(
        files.record(
            serial, benchId, temperatureC, takenAt, name == null ? "" : name, file.getBytes()));
  }

  /** Takes a reading out of use; it stays on record. */
  @PostMapping("/{id}/void")
  Reading voidReading(@PathVariable long id, @RequestBody VoidRequest request) {
    return readings.voidReading(id, present("reason", request.reason));
  }

  private static ResponseEntity<Reading> created(Reading reading) {
    return ResponseEntity.created(URI.create("/api/v1/readings/" + reading.id())).body(reading);
  }
}
