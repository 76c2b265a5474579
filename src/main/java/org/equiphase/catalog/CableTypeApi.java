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
@RequestMapping(CableTypeApi.PATH)
@Tag(name = "Catalog")
class CableTypeApi {
  static final String PATH = "/api/v1/catalog/cable-types";

  private final Catalog catalog;

  CableTypeApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All cable types, by name")
  List<CableType> all() {
    return catalog.cableTypes();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One cable type")
  CableType one(@PathVariable long id) {
    return catalog.cableType(id);
  }

  @PostMapping
  @Operation(summary = "Add a cable type")
  ResponseEntity<CableType> add(@RequestBody CableTypeBody body) {
    DraftProblems problems = new DraftProblems();
    CableType added = catalog.save(body.draft(0, 0, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(added);
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change a cable type",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  CableType change(@PathVariable long id, @RequestBody CableTypeBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    CableType draft = body.draft(id, version, problems);
    return catalog.save(draft, problems);
  }
}
