package org.equiphase.building;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.building.Drafts.Fit;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.Format;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Where a planner builds sets of an order's pool. */
@Controller
@RequestMapping("/building/{number}")
class BuildingPages {

  private final Drafts drafts;
  private final BuildingView view;
  private final Arrangements arrangements;
  private final WorkOrders workOrders;

  BuildingPages(
      Drafts drafts, BuildingView view, Arrangements arrangements, WorkOrders workOrders) {
    this.drafts = drafts;
    this.view = view;
    this.arrangements = arrangements;
    this.workOrders = workOrders;
  }

  @GetMapping
  ModelAndView show(@PathVariable String number) {
    return page(number, HttpStatus.OK, null, Map.of(), null);
  }

  @PostMapping("/proposals")
  ModelAndView propose(
      @PathVariable String number,
      @RequestParam int version,
      @RequestParam Rule rule,
      @RequestParam(defaultValue = "") String setSize,
      @RequestParam(defaultValue = "") String wantedSets,
      @RequestParam(defaultValue = "") String tolerancePercent,
      @RequestParam(defaultValue = "false") boolean cuts,
      @RequestParam(defaultValue = "") String positions,
      @RequestParam(required = false) @Nullable List<String> taking) {
    WorkOrder order = workOrders.orderByNumber(number);
    Map<String, Object> typed = new LinkedHashMap<>();
    typed.put("rule", rule);
    typed.put("setSize", setSize);
    typed.put("wantedSets", wantedSets);
    typed.put("tolerancePercent", tolerancePercent);
    typed.put("cuts", cuts);
    typed.put("positions", positions);
    return done(
        number,
        typed,
        () -> {
          Double share = Numbers.readOptional("tolerancePercent", tolerancePercent);
          Ask ask =
              new Ask(
                  rule,
                  whole("wantedSets", wantedSets),
                  share == null ? 100 : share,
                  cuts,
                  positions(whole("setSize", setSize), positions));
          List<String> without =
              drafts.pool(order).members().stream()
                  .filter(Standing::usable)
                  .map(m -> m.assembly().serial())
                  .filter(serial -> taking == null || !taking.contains(serial))
                  .toList();
          drafts.propose(order, version, ask, without);
        });
  }

  @PostMapping("/moves")
  ModelAndView move(
      @PathVariable String number,
      @RequestParam int version,
      @RequestParam(required = false) @Nullable List<String> serials,
      @RequestParam(defaultValue = "0") int toSet,
      @RequestParam(defaultValue = "false") boolean exchange) {
    WorkOrder order = workOrders.orderByNumber(number);
    List<String> chosen = serials == null ? List.of() : serials;
    return done(
        number,
        null,
        () -> {
          if (exchange) {
            drafts.exchange(order, version, chosen);
          } else {
            drafts.move(order, version, chosen, toSet);
          }
        });
  }

  @PostMapping("/positions")
  ModelAndView assign(
      @PathVariable String number, @RequestParam int version, @RequestParam Fit fit) {
    WorkOrder order = workOrders.orderByNumber(number);
    return done(number, null, () -> drafts.assign(order, version, fit));
  }

  @PostMapping("/acceptance")
  ModelAndView accept(
      @PathVariable String number,
      @RequestParam int version,
      @RequestParam(required = false) @Nullable List<String> names) {
    WorkOrder order = workOrders.orderByNumber(number);
    return done(
        number, null, () -> drafts.accept(order, version, names == null ? List.of() : names));
  }

  @PostMapping("/discard")
  ModelAndView discard(@PathVariable String number, @RequestParam int version) {
    WorkOrder order = workOrders.orderByNumber(number);
    return done(number, null, () -> drafts.discard(order, version));
  }

  @GetMapping("/sets/{id}")
  String arrangement(@PathVariable String number, @PathVariable long id, Model model) {
    WorkOrder order = workOrders.orderByNumber(number);
    model.addAttribute("choice", arrangements.of(order, id));
    model.addAttribute("fits", Fit.values());
    return "building/arrangement";
  }

  @PostMapping("/sets/{id}")
  ModelAndView exchange(
      @PathVariable String number,
      @PathVariable long id,
      @RequestParam int version,
      @RequestParam Fit fit) {
    MatchedSet set = arrangements.exchange(workOrders.orderByNumber(number), id, version, fit);
    return new ModelAndView("redirect:/sets/{id}", Map.of("id", set.id()));
  }

  /** Does something to the draft and comes back to it; what is refused is told there. */
  private ModelAndView done(String number, @Nullable Map<String, Object> typed, Runnable work) {
    try {
      work.run();
    } catch (InvalidInputException e) {
      if (typed == null) {
        return page(number, HttpStatus.BAD_REQUEST, null, Map.of(), said(e.problems().get(0)));
      }
      Map<String, Sentence> errors = new HashMap<>();
      for (FieldProblem problem : e.problems()) {
        errors.putIfAbsent(problem.field().replaceFirst("[\\[.].*", ""), problem.message());
      }
      return page(number, HttpStatus.BAD_REQUEST, typed, errors, null);
    } catch (ConflictException e) {
      return page(number, HttpStatus.CONFLICT, typed, Map.of(), e.words());
    }
    return new ModelAndView("redirect:/building/{number}", Map.of("number", number));
  }

  /** A set's name is told with its place among the sets; the rest are sentences. */
  private static Sentence said(FieldProblem problem) {
    return problem.field().contains("[")
        ? Sentence.of("order.problem", problem.field(), problem.message())
        : problem.message();
  }

  private ModelAndView page(
      String number,
      HttpStatus status,
      @Nullable Map<String, Object> typed,
      Map<String, Sentence> errors,
      @Nullable Sentence conflict) {
    WorkOrder order = workOrders.orderByNumber(number);
    BuildingView.Shown shown = view.of(order);
    ModelAndView page = new ModelAndView("building/building", status);
    page.addObject("shown", shown);
    page.addObject("typed", typed == null ? asked(shown) : typed);
    page.addObject("rules", rules());
    page.addObject("errors", errors);
    page.addObject("conflict", conflict);
    return page;
  }

  private static Map<String, Sentence> rules() {
    Map<String, Sentence> rules = new LinkedHashMap<>();
    for (Rule rule : Rule.values()) {
      rules.put(rule.name(), Sentence.of("building.rule." + rule));
    }
    return rules;
  }

  /** What the form shows first: the draft's own settings, or those of the order's first set. */
  private Map<String, Object> asked(BuildingView.Shown shown) {
    Draft draft = shown.draft();
    Map<String, Object> typed = new LinkedHashMap<>();
    List<MatchedSet> sets = workOrders.setsOf(shown.order().id());
    List<SetPosition> positions =
        draft != null ? draft.positions() : sets.isEmpty() ? List.of() : sets.get(0).positions();
    Integer wanted = draft == null ? null : draft.ask().wantedSets();
    Format format = new Format();
    typed.put("rule", draft == null ? Rule.MOST_SETS : draft.ask().rule());
    typed.put("setSize", positions.isEmpty() ? "" : "" + positions.size());
    typed.put("wantedSets", wanted == null ? "" : "" + wanted);
    typed.put(
        "tolerancePercent", format.plain(draft == null ? 100 : draft.ask().tolerancePercent()));
    typed.put("cuts", draft != null && draft.ask().cuts());
    typed.put("positions", plain(positions) ? "" : lines(positions, format));
    return typed;
  }

  private static boolean plain(List<SetPosition> positions) {
    for (int i = 0; i < positions.size(); i++) {
      SetPosition p = positions.get(i);
      boolean numbered = p.label().equals("" + (i + 1));
      if (!numbered || p.offsetPhaseDeg() != 0 || p.offsetDelayPs() != 0) {
        return false;
      }
    }
    return true;
  }

  private static String lines(List<SetPosition> positions, Format format) {
    List<String> lines = new ArrayList<>();
    for (SetPosition p : positions) {
      lines.add(
          p.label()
              + "; "
              + format.plain(p.offsetPhaseDeg())
              + "; "
              + format.plain(p.offsetDelayPs()));
    }
    return String.join("\n", lines);
  }

  private static @Nullable Integer whole(String field, String typed) {
    Double value = Numbers.readOptional(field, typed);
    if (value == null) {
      return null;
    }
    if (value != Math.rint(value) || Math.abs(value) > 1e6) {
      throw InvalidInputException.of(field, Sentence.of("building.notWhole", typed.strip()));
    }
    return value.intValue();
  }

  /** Label; offset °; offset ps, one position per line; without lines they are numbered. */
  static List<SetPosition> positions(@Nullable Integer setSize, String typed) {
    List<String> lines = typed.lines().map(String::strip).filter(l -> !l.isEmpty()).toList();
    if (lines.isEmpty() && setSize == null) {
      throw InvalidInputException.of("setSize", Sentence.of("building.sizeMissing"));
    }
    int size = setSize == null ? lines.size() : setSize;
    if (!lines.isEmpty() && lines.size() != size) {
      throw InvalidInputException.of(
          "positions", Sentence.of("building.linesAndSize", lines.size(), size));
    }
    if (size < 2 || size > 200) {
      throw InvalidInputException.of("setSize", Sentence.of("building.sizeRange", size));
    }
    List<SetPosition> positions = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      String[] cells = (lines.isEmpty() ? "" + (i + 1) : lines.get(i)).split(";", -1);
      if (cells.length > 3) {
        throw InvalidInputException.of("positions", Sentence.of("building.cells", i + 1));
      }
      positions.add(
          new SetPosition(0, i, cells[0].strip(), offset(cells, 1, i), offset(cells, 2, i)));
    }
    return positions;
  }

  private static double offset(String[] cells, int cell, int line) {
    if (cells.length <= cell || cells[cell].isBlank()) {
      return 0;
    }
    return Numbers.parse(cells[cell])
        .orElseThrow(
            () ->
                InvalidInputException.of(
                    "positions", Sentence.of("building.noOffset", line + 1, cells[cell].strip())));
  }
}
