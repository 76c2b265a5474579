package org.equiphase.review;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** QA's decisions for machine clients. Whoever sends one signs it with their own password. */
@RestController
@RequestMapping("/api/v1/review/dispositions")
class DispositionApi {

  private final Dispositions dispositions;
  private final WorkOrders workOrders;

  DispositionApi(Dispositions dispositions, WorkOrders workOrders) {
    this.dispositions = dispositions;
    this.workOrders = workOrders;
  }

  record Decision(@Nullable DispositionDraft disposition, @Nullable String password) {}

  record SecondSignature(
      @Nullable Boolean agrees, @Nullable String text, @Nullable String password) {}

  /** The decisions about an assembly, the newest first. */
  @GetMapping
  List<Disposition> about(@RequestParam String serial) {
    return dispositions.of(workOrders.assemblyBySerial(serial).id());
  }

  /** The decisions that wait for a second signature. */
  @GetMapping("/pending")
  List<Disposition> pending() {
    return dispositions.pending(Integer.MAX_VALUE);
  }

  @GetMapping("/{id}")
  Disposition disposition(@PathVariable long id) {
    return dispositions.disposition(id);
  }

  @PostMapping
  @ResponseStatus(HttpStatus.CREATED)
  Disposition decide(@RequestBody Decision request) {
    return dispositions.decide(
        present("disposition", request.disposition), present("password", request.password));
  }

  @PostMapping("/{id}/signatures")
  Disposition countersign(@PathVariable long id, @RequestBody SecondSignature request) {
    return dispositions.countersign(
        id,
        present("agrees", request.agrees),
        request.text == null ? "" : request.text,
        present("password", request.password));
  }
}
