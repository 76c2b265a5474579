package org.equiphase.measurement;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Problem;
import org.equiphase.web.Problems;
import org.equiphase.web.Sentence;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.util.MultiValueMap;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;

/**
 * Upload many Touchstone or CSV files, confirm the serial numbers taken from their names, record
 * them.
 */
@Controller
@RequestMapping("/files")
class FilesPage {

  private static final int FINISHED_SHOWN = 50;

  private final SweepFiles files;
  private final Catalog catalog;
  private final Problems problems;
  private final TransactionTemplate eachOnItsOwn;

  FilesPage(
      SweepFiles files, Catalog catalog, Problems problems, TransactionTemplate transactions) {
    this.files = files;
    this.catalog = catalog;
    this.problems = problems;
    this.eachOnItsOwn =
        new TransactionTemplate(Objects.requireNonNull(transactions.getTransactionManager()));
    this.eachOnItsOwn.setPropagationBehavior(TransactionTemplate.PROPAGATION_NESTED);
  }

  @GetMapping
  ModelAndView files() {
    return page(List.of(), HttpStatus.OK);
  }

  @PostMapping
  ModelAndView upload(@RequestParam("file") List<MultipartFile> uploaded) throws IOException {
    for (MultipartFile file : uploaded) {
      if (!file.isEmpty()) {
        String name = file.getOriginalFilename();
        files.upload(name == null ? "" : name, file.getBytes());
      }
    }
    return new ModelAndView("redirect:/files");
  }

  /** Records the files that were ticked; one that is refused does not hold up the others. */
  @PostMapping("/confirm")
  ModelAndView confirm(
      @RequestParam(name = "id", defaultValue = "") List<Long> ticked,
      @RequestParam long benchId,
      @RequestParam MultiValueMap<String, String> form) {
    double temperatureC;
    try {
      temperatureC = Numbers.read("temperatureC", form.getFirst("temperatureC"));
    } catch (InvalidInputException e) {
      return page(List.of(problems.of(e).detail()), HttpStatus.BAD_REQUEST);
    }
    List<Sentence> refused = new ArrayList<>();
    for (long id : ticked) {
      SweepFile file = files.file(id);
      String version = form.getFirst("version" + id);
      String serial = form.getFirst("serial" + id);
      try {
        eachOnItsOwn.executeWithoutResult(
            status ->
                files.confirm(
                    id,
                    (int) Numbers.read("version", version),
                    serial == null ? "" : serial.strip(),
                    benchId,
                    temperatureC,
                    null));
      } catch (RuntimeException e) {
        refused.add(Sentence.of("files.refused", file.name(), problems.of(e).detail()));
      }
    }
    return refused.isEmpty() ? new ModelAndView("redirect:/files") : page(refused, HttpStatus.OK);
  }

  @PostMapping("/{id}/discard")
  ModelAndView discard(
      @PathVariable long id, @RequestParam int version, @RequestParam String reason) {
    try {
      files.discard(id, version, reason);
    } catch (RuntimeException e) {
      Problem problem = problems.of(e);
      return page(List.of(problem.detail()), problem.httpStatus());
    }
    return new ModelAndView("redirect:/files");
  }

  private ModelAndView page(List<Sentence> messages, HttpStatus status) {
    ModelAndView page = new ModelAndView("measurement/files");
    page.setStatus(status);
    page.addObject("messages", messages);
    page.addObject("waiting", files.waiting());
    page.addObject("finished", files.finished(FINISHED_SHOWN));
    page.addObject("benches", catalog.benches());
    return page;
  }
}
