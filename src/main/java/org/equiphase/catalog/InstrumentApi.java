package org.equiphase.catalog;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.net.URI;
import java.util.List;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping(InstrumentApi.PATH)
@Tag(name = "Catalog")
class InstrumentApi {
  static final String PATH = "/api/v1/catalog/instruments";

  private final Catalog catalog;

  InstrumentApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All instruments, by name")
  List<Instrument> all() {
    return catalog.instruments();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One instrument")
  Instrument one(@PathVariable long id) {
    return catalog.instrument(id);
  }

  @PostMapping
  @Operation(summary = "Add an instrument")
  ResponseEntity<Instrument> add(@RequestBody InstrumentBody body) {
    DraftProblems problems = new DraftProblems();
    Instrument added = catalog.save(body.draft(0, 0, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(added);
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change an instrument",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  Instrument change(@PathVariable long id, @RequestBody InstrumentBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    Instrument draft = body.draft(id, version, problems);
    return catalog.save(draft, problems);
  }
}
