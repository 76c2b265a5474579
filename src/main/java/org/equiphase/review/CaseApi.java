package org.equiphase.review;

import java.util.List;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Cases for machine clients: facts, options, and what the errors do to an antenna. */
@RestController
@RequestMapping("/api/v1/review/cases/{serial}")
class CaseApi {

  private final Cases cases;
  private final CaseOptions options;

  CaseApi(Cases cases, CaseOptions options) {
    this.cases = cases;
    this.options = options;
  }

  @GetMapping
  CaseFacts facts(@PathVariable String serial) {
    return cases.of(serial);
  }

  @GetMapping("/options")
  List<CaseOption> options(@PathVariable String serial) {
    return options.of(cases.of(serial));
  }

  /** Null where the set makes no array. */
  @GetMapping("/antenna")
  @Nullable ArrayView antenna(
      @PathVariable String serial,
      @RequestParam(defaultValue = "0") double steerDeg,
      @RequestParam(defaultValue = "0.5") double spacingWavelengths,
      @RequestParam(defaultValue = "false") boolean tapered) {
    CaseFacts facts = cases.of(serial);
    SetPlan plan = facts.plan();
    MemberPlan member = facts.asItIs();
    return plan == null || member == null
        ? null
        : ArrayView.of(plan, member, new ArrayView.Question(steerDeg, spacingWavelengths, tapered));
  }
}
