package org.equiphase.audit;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The audit log for people. */
@Controller
class AuditPage {

  private static final int PAGE_SIZE = 100;

  private final AuditLog log;

  AuditPage(AuditLog log) {
    this.log = log;
  }

  @GetMapping("/audit")
  String entries(
      @RequestParam(defaultValue = "") String actor,
      @RequestParam(defaultValue = "") String subjectType,
      @RequestParam(defaultValue = "") String subjectKey,
      @RequestParam(required = false) @Nullable Long before,
      Model model) {
    List<AuditEntry> entries =
        log.entries(wanted(actor), wanted(subjectType), wanted(subjectKey), before, PAGE_SIZE + 1);
    boolean more = entries.size() > PAGE_SIZE;
    List<AuditEntry> shown = more ? entries.subList(0, PAGE_SIZE) : entries;
    model.addAttribute("entries", shown);
    model.addAttribute("nextBefore", more ? shown.get(PAGE_SIZE - 1).id() : null);
    model.addAttribute("actor", actor);
    model.addAttribute("subjectType", subjectType);
    model.addAttribute("subjectKey", subjectKey);
    return "audit/entries";
  }

  @GetMapping("/audit/chain")
  String chain(Model model) {
    model.addAttribute("check", log.verify());
    return "audit/chain";
  }

  private static @Nullable String wanted(String text) {
    return text.isBlank() ? null : text.strip();
  }
}
