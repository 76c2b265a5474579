package org.equiphase.review;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** QA's holds on the set page. */
@Controller
@RequestMapping("/review/sets/{id}")
class HoldPages {

  private final Holds holds;

  HoldPages(Holds holds) {
    this.holds = holds;
  }

  @PostMapping("/hold")
  String hold(@PathVariable long id, @RequestParam String serial, @RequestParam String reason) {
    holds.hold(serial, reason);
    return "redirect:/sets/" + id;
  }

  @PostMapping("/release")
  String release(@PathVariable long id, @RequestParam String serial, @RequestParam String reason) {
    holds.release(serial, reason);
    return "redirect:/sets/" + id;
  }
}
