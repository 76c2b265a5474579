package org.equiphase.review;

import java.util.List;
import java.util.stream.IntStream;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.StripView;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Everything that QA needs to decide about one assembly, and the set that it stands in. */
@Controller
@RequestMapping("/review")
class CasePage {

  private final Cases cases;
  private final CaseOptions options;
  private final Adjustments adjustments;
  private final Dispositions dispositions;

  CasePage(Cases cases, CaseOptions options, Adjustments adjustments, Dispositions dispositions) {
    this.cases = cases;
    this.options = options;
    this.adjustments = adjustments;
    this.dispositions = dispositions;
  }

  @GetMapping("/cases/{serial}")
  String member(@PathVariable String serial, Model model) {
    CaseFacts facts = cases.of(serial);
    model.addAttribute("facts", facts);
    model.addAttribute("strips", facts.plan() == null ? List.of() : strips(facts.plan()));
    return "review/case";
  }

  /** Loaded after the page, since the swaps take a search. */
  @GetMapping("/cases/{serial}/options")
  String options(
      @PathVariable String serial,
      @RequestParam(required = false) @Nullable String steerDeg,
      @RequestParam(required = false) @Nullable String spacingWavelengths,
      @RequestParam(defaultValue = "false") boolean tapered,
      Model model) {
    CaseFacts facts = cases.of(serial);
    model.addAttribute("facts", facts);
    model.addAttribute("options", options.of(facts));
    ArrayView.Question question = question(steerDeg, spacingWavelengths, tapered, model);
    SetPlan plan = facts.plan();
    MemberPlan member = facts.asItIs();
    model.addAttribute(
        "antenna", plan == null || member == null ? null : ArrayView.of(plan, member, question));
    return "review/options";
  }

  @GetMapping("/sets/{id}")
  String set(@PathVariable long id, Model model) {
    SetPlan plan = adjustments.plan(id);
    model.addAttribute("plan", plan);
    model.addAttribute("strips", strips(plan));
    model.addAttribute("dispositions", dispositions.ofSet(id));
    return "review/set";
  }

  private static List<StripView> strips(SetPlan plan) {
    return IntStream.range(0, plan.order().specification().frequencies().size())
        .mapToObj(k -> StripView.of(plan, k))
        .toList();
  }

  private static ArrayView.Question question(
      @Nullable String steerDeg,
      @Nullable String spacingWavelengths,
      boolean tapered,
      Model model) {
    ArrayView.Question usual = ArrayView.Question.USUAL;
    try {
      Double steer = Numbers.readOptional("steerDeg", steerDeg);
      Double spacing = Numbers.readOptional("spacingWavelengths", spacingWavelengths);
      return new ArrayView.Question(
          steer == null ? usual.steerDeg() : steer,
          spacing == null ? usual.spacingWavelengths() : spacing,
          tapered);
    } catch (InvalidInputException e) {
      model.addAttribute("refused", e.problems().get(0).message());
      return usual;
    }
  }
}
