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
@RequestMapping(LineStretcherApi.PATH)
@Tag(name = "Catalog")
class LineStretcherApi {
  static final String PATH = "/api/v1/catalog/line-stretchers";

  private final Catalog catalog;

  LineStretcherApi(Catalog catalog) {
    this.catalog = catalog;
  }

  @GetMapping
  @Operation(summary = "All line stretchers, by name")
  List<LineStretcher> all() {
    return catalog.lineStretchers();
  }

  @GetMapping("/{id}")
  @Operation(summary = "One line stretcher")
  LineStretcher one(@PathVariable long id) {
    return catalog.lineStretcher(id);
  }

  @PostMapping
  @Operation(summary = "Add a line stretcher")
  ResponseEntity<LineStretcher> add(@RequestBody LineStretcherBody body) {
    DraftProblems problems = new DraftProblems();
    LineStretcher added = catalog.save(body.draft(0, 0, problems), problems);
    return ResponseEntity.created(URI.create(PATH + "/" + added.id())).body(added);
  }

  @PutMapping("/{id}")
  @Operation(
      summary = "Change a line stretcher",
      description = "Carries the version that was read; 409 if it is no longer the stored one.")
  LineStretcher change(@PathVariable long id, @RequestBody LineStretcherBody body) {
    DraftProblems problems = new DraftProblems();
    int version = problems.version(body.version());
    LineStretcher draft = body.draft(id, version, problems);
    return catalog.save(draft, problems);
  }
}
