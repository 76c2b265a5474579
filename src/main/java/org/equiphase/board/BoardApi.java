package org.equiphase.board;

import java.util.List;
import org.equiphase.account.SignedIn;
import org.equiphase.board.Glances.Glance;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** The board for machine clients. */
@RestController
@RequestMapping("/api/v1/board")
class BoardApi {

  private static final int MOST_PAGES = 1_000_000;

  private final Boards boards;
  private final Glances glances;

  BoardApi(Boards boards, Glances glances) {
    this.boards = boards;
    this.glances = glances;
  }

  @GetMapping
  Board board(
      @RequestParam(defaultValue = "") String search, @RequestParam(defaultValue = "0") int page) {
    if (page < 0 || page > MOST_PAGES) {
      throw InvalidInputException.of("page", Sentence.of("board.noPage", page, MOST_PAGES));
    }
    return boards.board(search, page);
  }

  /** The numbers that matter to whoever asks. */
  @GetMapping("/glance")
  List<Glance> glance(@AuthenticationPrincipal SignedIn person) {
    return glances.of(person);
  }
}
