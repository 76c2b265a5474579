package org.equiphase.audit;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Map;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.RequestParam;

/** The audit log for people. */
@Controller
class AuditPage {

  private static final int PAGE_SIZE = 100;

  private final EntrySearch search;
  private final EntryWords words;
  private final ChainChecker checker;

  AuditPage(EntrySearch search, EntryWords words, ChainChecker checker) {
    this.search = search;
    this.words = words;
    this.checker = checker;
  }

  @GetMapping("/audit")
  String entries(
      @ModelAttribute("form") EntryFilter.Form form,
      @RequestParam(required = false) @Nullable Long before,
      Model model,
      HttpServletRequest request,
      HttpServletResponse response) {
    EntrySearch.Page page = new EntrySearch.Page(List.of(), null);
    Map<String, Sentence> problems = Map.of();
    try {
      page = search.page(form.filter(), before, PAGE_SIZE);
    } catch (InvalidInputException e) {
      response.setStatus(HttpStatus.BAD_REQUEST.value());
      problems = e.byField();
    }
    model.addAttribute("problems", problems);
    boolean seesPeople = request.isUserInRole("ADMINISTRATOR");
    model.addAttribute(
        "entries", page.entries().stream().map(entry -> EntryView.of(entry, seesPeople)).toList());
    model.addAttribute("nextBefore", page.next());
    model.addAttribute("words", words.now());
    model.addAttribute("check", checker.latest().orElse(null));
    return "audit/entries";
  }

  @GetMapping("/audit/chain")
  String chain(Model model) {
    model.addAttribute("check", checker.check());
    return "audit/chain";
  }
}
