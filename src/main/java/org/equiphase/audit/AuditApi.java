package org.equiphase.audit;

import java.time.Instant;
import java.util.List;
import org.equiphase.web.NotFoundException;
import org.jspecify.annotations.Nullable;
import org.springdoc.core.annotations.ParameterObject;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.JsonNode;

/** The audit log for programs. */
@RestController
@RequestMapping("/api/v1/audit")
class AuditApi {

  private static final int MOST = 1000;

  private final EntrySearch search;
  private final EntryWords words;
  private final ChainChecker checker;

  AuditApi(EntrySearch search, EntryWords words, ChainChecker checker) {
    this.search = search;
    this.words = words;
    this.checker = checker;
  }

  /** An entry; the details are a JSON object. */
  record Entry(
      long id,
      Instant at,
      String actor,
      String action,
      String subjectType,
      String subjectKey,
      JsonNode details,
      String previousHash,
      String hash) {

    static Entry of(AuditEntry entry) {
      return new Entry(
          entry.id(),
          entry.at(),
          entry.actor(),
          entry.action(),
          entry.subjectType(),
          entry.subjectKey(),
          EntryView.json(entry.details()),
          entry.previousHash(),
          entry.hash());
    }
  }

  /**
   * Newest first; pass the last id as {@code before} to get the next ones, or follow the header
   * Link (RFC 8288) as long as there is one. With {@code text}, one answer looks through 50,000
   * entries at most, and may then be empty though more follow.
   */
  @GetMapping
  ResponseEntity<List<Entry>> entries(
      @ParameterObject @ModelAttribute EntryFilter.Form form,
      @RequestParam(required = false) @Nullable Long before,
      @RequestParam(defaultValue = "100") int limit) {
    EntrySearch.Page page = search.page(form.filter(), before, Math.min(Math.max(limit, 1), MOST));
    ResponseEntity.BodyBuilder answer = ResponseEntity.ok();
    if (page.next() != null) {
      String next =
          ServletUriComponentsBuilder.fromCurrentRequest()
              .replaceQueryParam("before", page.next())
              .toUriString();
      answer.header(HttpHeaders.LINK, "<" + next + ">; rel=\"next\"");
    }
    return answer.body(page.entries().stream().map(Entry::of).toList());
  }

  /** The people, actions and kinds of thing that occur in the log. */
  @GetMapping("/words")
  EntryWords.Words words() {
    return words.now();
  }

  /** Checks the chain of hashes and all rows that it seals. */
  @GetMapping("/chain")
  ChainCheck chain() {
    return checker.check();
  }

  /** The last check, which may be that at the start of the service. */
  @GetMapping("/chain/latest")
  ChainCheck latest() {
    return checker.latest().orElseThrow(() -> new NotFoundException("chain check", "latest"));
  }
}
