package org.equiphase.board;

import org.equiphase.account.SignedIn;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The board as everyone reads it, with the numbers of whoever looks on top. */
@Controller
class BoardPage {

  private final Boards boards;
  private final Glances glances;

  BoardPage(Boards boards, Glances glances) {
    this.boards = boards;
    this.glances = glances;
  }

  @GetMapping("/board")
  String board(
      @RequestParam(defaultValue = "") String search,
      @RequestParam(defaultValue = "0") int page,
      @AuthenticationPrincipal SignedIn person,
      Model model) {
    model.addAttribute("board", boards.board(search, Math.max(0, Math.min(page, 1_000_000))));
    model.addAttribute("search", search);
    model.addAttribute("glances", glances.of(person));
    return "board/board";
  }
}
