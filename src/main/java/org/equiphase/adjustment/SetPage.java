package org.equiphase.adjustment;

import java.util.stream.IntStream;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** The set as everyone reads it, and one assembly with its history. */
@Controller
class SetPage {

  private final Adjustments adjustments;
  private final AssemblyHistory history;
  private final WorkOrders workOrders;

  SetPage(Adjustments adjustments, AssemblyHistory history, WorkOrders workOrders) {
    this.adjustments = adjustments;
    this.history = history;
    this.workOrders = workOrders;
  }

  @GetMapping("/sets/{id}")
  String set(@PathVariable long id, Model model) {
    SetPlan plan = adjustments.plan(id);
    model.addAttribute("plan", plan);
    model.addAttribute(
        "strips",
        IntStream.range(0, plan.order().specification().frequencies().size())
            .mapToObj(k -> StripView.of(plan, k))
            .toList());
    return "adjustment/set";
  }

  @GetMapping("/assemblies/{serial}")
  String assembly(@PathVariable String serial, Model model) {
    var assembly = workOrders.assemblyBySerial(serial);
    model.addAttribute("assembly", assembly);
    model.addAttribute("order", workOrders.order(assembly.workOrderId()));
    model.addAttribute("history", history.of(assembly));
    return "adjustment/assembly";
  }
}
