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
@RequestMapping(AdapterApi.PATH)
@Tag(name = "Catalog")
class AdapterApi {
  static final String PATH = "/api/v1/catalog/adapters";

  private final Catalog catalog;

  AdapterApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All adapters, by name")
  List<Adapter> all() {
    return catalog.adapters();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One adapter")
  Adapter one(@PathVariable long id) {
    return catalog.adapter(id);
  }

  @PostMapping
  @Operation(summary = "Add an adapter")
  ResponseEntity<Adapter> add(@RequestBody AdapterBody body) {
    DraftProblems problems = new DraftProblems();
    Adapter added = catalog.save(body.draft(0, 0, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(added);
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change an adapter",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  Adapter change(@PathVariable long id, @RequestBody AdapterBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    Adapter draft = body.draft(id, version, problems);
    return catalog.save(draft, problems);
  }
}
