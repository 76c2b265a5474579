package org.equiphase.web;

import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import org.equiphase.account.Role;
import org.springframework.context.annotation.Profile;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Endpoints that do what the tests of this package need: count, fail, be slow. */
final class TestEndpoints {

  private TestEndpoints() {}

  record Nap(long millis) {}

  record Item(String serial, double phaseErrorDeg) {}

  record Body(double frequencyHz, Role role, List<Item> items, double[] numbers, Double optional) {}

  @Profile("test")
  @RestController
  @RequestMapping("/api/v1/files/test")
  static class Counting {
    final AtomicInteger runs = new AtomicInteger();
    private final JdbcClient jdbc;
    private final TransactionTemplate inner;

    Counting(JdbcClient jdbc, PlatformTransactionManager transactions) {
      this.jdbc = jdbc;
      this.inner = new TransactionTemplate(transactions);
    }

    @PostMapping("/body")
    Map<String, Object> body(@RequestBody Body body) {
      return Map.of("items", body.items().size(), "run", runs.incrementAndGet());
    }

    @PostMapping("/parts")
    Map<String, Object> parts(
        @RequestParam("file") List<MultipartFile> files, @RequestParam String note) {
      return Map.of("files", files.size(), "note", note, "run", runs.incrementAndGet());
    }

    @PostMapping("/slow")
    ResponseEntity<Map<String, Object>> slow(@RequestBody Nap nap) throws InterruptedException {
      int run = runs.incrementAndGet();
      Thread.sleep(nap.millis());
      return ResponseEntity.status(201).header("Location", "/run/" + run).body(Map.of("run", run));
    }

    @PostMapping("/fails")
    Object fails(@RequestParam String marker) {
      insert(marker);
      throw new IllegalStateException("a secret of ours");
    }

    @PostMapping("/conflicts")
    Object conflicts(@RequestParam String marker) {
      insert(marker);
      throw new ConflictException(Sentence.said("The instruction is stale; measure again."));
    }

    /** What a controller must not do: say done after a service has given up. */
    @PostMapping("/swallows")
    Object swallows(@RequestParam String marker) {
      try {
        inner.executeWithoutResult(
            status -> {
              insert(marker);
              throw new ConflictException(Sentence.said("no"));
            });
      } catch (ConflictException e) {
        return Map.of("done", true);
      }
      return Map.of();
    }

    @GetMapping("/number")
    Map<String, Object> number(@RequestParam double value) {
      return Map.of("value", value);
    }

    private void insert(String marker) {
      jdbc.sql(
              "insert into setup_code (id, code_hash, created_at) values (1, ?, current_timestamp)")
          .param(marker)
          .update();
    }
  }

  @Profile("test")
  @Controller
  @RequestMapping("/files/test")
  static class Pages {
    final AtomicInteger runs = new AtomicInteger();

    @PostMapping("/form")
    String form(@RequestParam String serial) {
      return "redirect:/files/test/" + serial + "/" + runs.incrementAndGet();
    }

    @PostMapping("/upload")
    @ResponseBody
    String upload(@RequestParam("file") MultipartFile file) {
      return "run " + runs.incrementAndGet() + " size " + file.getSize();
    }

    @GetMapping("/missing")
    String missing() {
      throw new NotFoundException("assembly", "<b>A1</b>");
    }

    @GetMapping(path = "/invalid", produces = MediaType.TEXT_HTML_VALUE)
    String invalid() {
      throw InvalidInputException.of("frequencyMhz", "must be above 0");
    }
  }
}
