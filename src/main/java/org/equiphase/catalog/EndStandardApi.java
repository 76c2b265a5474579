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
@RequestMapping(EndStandardApi.PATH)
@Tag(name = "Catalog")
class EndStandardApi {
  static final String PATH = "/api/v1/catalog/end-standards";

  private final Catalog catalog;

  EndStandardApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All end standards, by name")
  List<EndStandard> all() {
    return catalog.endStandards();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One end standard")
  EndStandard one(@PathVariable long id) {
    return catalog.endStandard(id);
  }

  @PostMapping
  @Operation(summary = "Add an end standard")
  ResponseEntity<EndStandard> add(@RequestBody EndStandardBody body) {
    DraftProblems problems = new DraftProblems();
    EndStandard added = catalog.save(body.draft(0, 0, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(added);
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change an end standard",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  EndStandard change(@PathVariable long id, @RequestBody EndStandardBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    EndStandard draft = body.draft(id, version, problems);
    return catalog.save(draft, problems);
  }
}
