package org.equiphase.review;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** QA's forms on the set page. */
@Controller
@RequestMapping("/review/sets/{id}")
class DispositionPages {

  private final Dispositions dispositions;

  DispositionPages(Dispositions dispositions) {
    this.dispositions = dispositions;
  }

  @PostMapping("/hold")
  String hold(@PathVariable long id, @RequestParam String serial, @RequestParam String reason) {
    dispositions.hold(serial, reason);
    return "redirect:/sets/" + id;
  }

  @PostMapping("/release")
  String release(@PathVariable long id, @RequestParam String serial, @RequestParam String reason) {
    dispositions.release(serial, reason);
    return "redirect:/sets/" + id;
  }

  @PostMapping("/replace")
  String replace(
      @PathVariable long id,
      @RequestParam String serial,
      @RequestParam String newSerial,
      @RequestParam String reason) {
    dispositions.replace(serial, newSerial, reason);
    return "redirect:/sets/" + id;
  }
}
