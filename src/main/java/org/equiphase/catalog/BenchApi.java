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
@RequestMapping(BenchApi.PATH)
@Tag(name = "Catalog")
class BenchApi {
  static final String PATH = "/api/v1/catalog/benches";

  private final Catalog catalog;

  BenchApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All benches, by name")
  List<BenchAnswer> all() {
    return catalog.benches().stream().map(BenchAnswer::of).toList();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One bench")
  BenchAnswer one(@PathVariable long id) {
    return BenchAnswer.of(catalog.bench(id));
  }

  @PostMapping
  @Operation(summary = "Add a bench")
  ResponseEntity<BenchAnswer> add(@RequestBody BenchBody body) {
    DraftProblems problems = new DraftProblems();
    Bench added = catalog.save(body.draft(0, 0, catalog, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(BenchAnswer.of(added));
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change a bench",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  BenchAnswer change(@PathVariable long id, @RequestBody BenchBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    Bench draft = body.draft(id, version, catalog, problems);
    return BenchAnswer.of(catalog.save(draft, problems));
  }
}
